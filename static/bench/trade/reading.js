/**
 * Checks on a reading before it is taken.
 *
 * The figure on the display must be one this scale can show, not below what stood there before,
 * and not a slip of the decimal or of the unit. Slips are named and asked about, never put right
 * silently.
 */
import { scaleDecimals, scaleReadabilityG } from './cards.js';
import { GRAMS_PER_OUNCE, SLIP_SHARE, STEP_GUARD } from './constants.js';
import { entryDecimals, entryNumber, fixed, parseEntry } from './numbers.js';

/** @typedef {import('../types.js').Entry} Entry */
/** @typedef {import('../types.js').ReadingCheck} ReadingCheck */
/** @typedef {import('../types.js').ReadingOptions} ReadingOptions */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */

/** @type {ReadonlyArray<readonly ["tenfold" | "ounces", number]>} */
const SLIPS = [
  ['tenfold', 0.1],
  ['tenfold', 10.0],
  ['ounces', GRAMS_PER_OUNCE],
];

/**
 * Judge a typed display reading.
 * @param {string} typed what the person entered
 * @param {ScaleCard} scale the scale beside the phone
 * @param {ReadingOptions} [options] what is known about the reading
 * @returns {ReadingCheck} the value to record, or the problem: those of `parseEntry`, `ounces`,
 *   `tenfold`, `decimals`, `capacity`, `step`, `below`
 */
export function checkReading(typed, scale, options = {}) {
  const { before_g = null, expected_g = null, again = false, confirmed = false } = options;
  const entry = parseEntry(typed);
  if (entry.problem) return readingCheck({ problem: entry.problem });
  // Slips first: they explain a wrong count of decimals better than the count itself.
  const slip = confirmed ? null : slipOf(entry, scale, expected_g);
  if (slip !== null) return slip;
  const beyond = beyondScale(entry, scale);
  if (beyond !== null) return beyond;
  const number = entryNumber(entry);
  if (!again && before_g !== null && number < before_g - scaleReadabilityG(scale) / 2) {
    return readingCheck({ problem: 'below', limit: fixed(before_g, scaleDecimals(scale)) });
  }
  return readingCheck({ value: entry.value });
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
 * @returns {ReadingCheck | null}
 */
function slipOf(entry, scale, expectedG) {
  const number = entryNumber(entry);
  if (expectedG === null || expectedG <= 0 || near(number, expectedG)) return null;
  const decimals = scaleDecimals(scale);
  // A figure this scale cannot show is refused; one it can show is only asked about.
  const ask = entryDecimals(entry) === decimals;
  for (const [problem, factor] of SLIPS) {
    if (near(number * factor, expectedG)) {
      return readingCheck({ problem, ask, proposal: fixed(number * factor, decimals) });
    }
  }
  return null;
}

/**
 * @param {number} valueG
 * @param {number} expectedG
 * @returns {boolean}
 */
function near(valueG, expectedG) {
  return Math.abs(valueG - expectedG) <= SLIP_SHARE * expectedG;
}
