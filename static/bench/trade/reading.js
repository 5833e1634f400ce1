/**
 * Checks on a reading before it is taken.
 *
 * The figure on the display must be one this scale can show, not below what stood there before,
 * and not a slip of the decimal or of the unit. Slips are named and asked about, never put right
 * silently.
 */
import { scaleDecimals, scaleReadabilityG } from './cards.js';
import {
  GRAMS_PER_OUNCE, LIMIT_GUARD, SAME_LOAD_STEPS, SLIP_SHARE, STEP_GUARD, STICK_HEAVIEST_G, STICK_LIGHTEST_G,
} from './constants.js';
import { entryDecimals, entryNumber, fixed, parseEntry } from './numbers.js';

/** @typedef {import('../types.js').Entry} Entry */
/** @typedef {import('../types.js').ReadingCheck} ReadingCheck */
/** @typedef {import('../types.js').ReadingOptions} ReadingOptions */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */

/**
 * Judge a typed display reading.
 * @param {string} typed what the person entered
 * @param {ScaleCard} scale the scale beside the phone
 * @param {ReadingOptions} [options] what is known about the reading
 * @returns {ReadingCheck} the value to record, or the problem: those of `parseEntry`, `ounces`,
 *   `tenfold`, `decimals`, `capacity`, `step`, `below`, `tared` (near what was to be added, as
 *   after a tare nobody mentioned), `stick` (off by the mass of a stick)
 */
export function checkReading(typed, scale, options = {}) {
  const { before_g = null, expected_g = null, net_g = null, again = false, confirmed = false } = options;
  const entry = parseEntry(typed);
  if (entry.problem) return readingCheck({ problem: entry.problem });
  // Slips first: they explain a wrong count of decimals better than the count itself.
  const slip = confirmed ? null : slipOf(entry, scale, expected_g, net_g);
  if (slip !== null) return slip;
  const beyond = beyondScale(entry, scale);
  if (beyond !== null) return beyond;
  const number = entryNumber(entry);
  if (!again && before_g !== null && number < before_g - scaleReadabilityG(scale) / 2) {
    // Whoever really pressed tare says so; a figure that is only confirmed makes no sense.
    const tared = net_g !== null && net_g > 0 && near(number, net_g);
    const limit = fixed(before_g, scaleDecimals(scale));
    return readingCheck({ problem: tared ? 'tared' : 'below', ask: tared, limit });
  }
  const { accept_low_g: low, accept_high_g: high } = options;
  const isIn = (low ?? Infinity) <= number && number <= (high ?? -Infinity);
  if (!(again || confirmed || isIn) && likeNet(number, scale, before_g, net_g)) {
    return readingCheck({ problem: 'tared', ask: true, limit: fixed(before_g ?? 0, scaleDecimals(scale)) });
  }
  if (!confirmed && !isIn && expected_g !== null && offByAStick(number, expected_g)) {
    return readingCheck({ problem: 'stick', ask: true, proposal: fixed(expected_g, scaleDecimals(scale)) });
  }
  return readingCheck({ value: entry.value });
}

/**
 * Judge what a restarted scale shows with the cup back on it.
 * @param {string} typed
 * @param {ScaleCard} scale
 * @param {{least_g: number, expected_g?: number | null, confirmed?: boolean}} options `least_g` cup
 *   and what was certainly in it; `expected_g` what it must show where nothing was being poured
 * @returns {ReadingCheck} as `checkReading`; besides, `zero_gross` (switched on with the cup on it),
 *   `light` (less than was in it), `changed` (not what it must show)
 */
export function checkGross(typed, scale, { least_g, expected_g = null, confirmed = false }) {
  const check = checkReading(typed, scale, { expected_g, again: true, confirmed });
  if (check.problem !== '' && check.problem !== 'stick') return check;
  const number = entryNumber(parseEntry(typed));
  const stepG = scaleReadabilityG(scale);
  const sameG = SAME_LOAD_STEPS * stepG + LIMIT_GUARD;
  if (number <= stepG / 2) return readingCheck({ problem: 'zero_gross' });
  if (number < least_g - sameG) {
    return readingCheck({ problem: 'light', limit: fixed(least_g, scaleDecimals(scale)) });
  }
  if (check.problem || confirmed || expected_g === null || Math.abs(number - expected_g) <= sameG) {
    return check;
  }
  return readingCheck({ problem: 'changed', ask: true, proposal: fixed(expected_g, scaleDecimals(scale)) });
}

/**
 * @param {Partial<ReadingCheck>} part
 * @returns {ReadingCheck}
 */
function readingCheck(part) {
  return { value: '', problem: '', ask: false, proposal: '', limit: '', ...part };
}

/**
 * Why this scale can never show the figure, or null.
 * @param {Entry} entry
 * @param {ScaleCard} scale
 * @returns {ReadingCheck | null}
 */
function beyondScale(entry, scale) {
  const decimals = scaleDecimals(scale);
  if (entryDecimals(entry) !== decimals) {
    return readingCheck({ problem: 'decimals', limit: scale.readability });
  }
  const number = entryNumber(entry);
  if (number > scale.capacity_g) {
    return readingCheck({ problem: 'capacity', limit: fixed(scale.capacity_g, decimals) });
  }
  const steps = number / scaleReadabilityG(scale);
  if (Math.abs(steps - Math.floor(steps + 0.5)) > STEP_GUARD * Math.max(1.0, steps)) {
    return readingCheck({ problem: 'step', limit: scale.readability });
  }
  return null;
}

/**
 * @param {Entry} entry
 * @param {ScaleCard} scale
 * @param {number | null} expectedG
 * @param {number | null} netG
 * @returns {ReadingCheck | null}
 */
function slipOf(entry, scale, expectedG, netG) {
  const number = entryNumber(entry);
  if (expectedG === null || expectedG <= 0 || near(number, expectedG)) return null;
  const decimals = scaleDecimals(scale);
  // A figure this scale cannot show is refused; one it can show is only asked about.
  const ask = entryDecimals(entry) === decimals;
  /** @type {["tenfold" | "ounces", number, number][]} */
  const slips = [
    ['tenfold', 0.1, expectedG],
    ['tenfold', 10.0, expectedG],
    ['ounces', GRAMS_PER_OUNCE, expectedG],
  ];
  // A person who pressed tare reads what was added alone.
  if (netG !== null && netG > 0 && !near(number, netG)) slips.push(['ounces', GRAMS_PER_OUNCE, netG]);
  for (const [problem, factor, wantedG] of slips) {
    if (near(number * factor, wantedG)) {
      return readingCheck({ problem, ask, proposal: fixed(number * factor, decimals) });
    }
  }
  return null;
}

/**
 * Whether a reading above the last one looks like what was added alone, after a tare unsaid.
 * @param {number} number
 * @param {ScaleCard} scale
 * @param {number | null} beforeG
 * @param {number | null} netG
 */
function likeNet(number, scale, beforeG, netG) {
  const sameG = SAME_LOAD_STEPS * scaleReadabilityG(scale);
  if (beforeG === null || netG === null || netG <= 0 || beforeG <= 2 * sameG) return false;
  // Nearer to what was added than to the stop, which is the last reading further up.
  return Math.abs(number - netG) <= beforeG / 4 + sameG;
}

/**
 * @param {number} number
 * @param {number} expectedG
 */
function offByAStick(number, expectedG) {
  const offG = Math.abs(number - expectedG);
  return STICK_LIGHTEST_G - STEP_GUARD <= offG && offG <= STICK_HEAVIEST_G + STEP_GUARD;
}

/**
 * @param {number} valueG
 * @param {number} expectedG
 * @returns {boolean}
 */
function near(valueG, expectedG) {
  return Math.abs(valueG - expectedG) <= SLIP_SHARE * expectedG;
}
