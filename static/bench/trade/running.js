/**
 * The clocks that run: of cups, of steps, of the shop; sorted by their next limit.
 *
 * Wall-clock times make them, so a phone that died or a screen that was closed changes nothing. A
 * figure that is on no card makes no limit: such a clock only says since when it runs.
 */
import { nagAfterS } from './auto-off.js';
import { potLifeMin } from './clocks.js';
import { POT_LIFE_WARN_SHARE } from './constants.js';
import { mixTimes } from './cup/mixing.js';
import { CupState } from './cup/progress.js';
import { COVERED_MIN, UNCOVERED_MIN, waiting } from './cup/waiting.js';
import { formatUtc, parseUtc, secondsBetween } from './times.js';

/** @typedef {import('../types.js').Clock} Clock */
/** @typedef {import('../types.js').Cup} Cup */
/** @typedef {import('../types.js').Lot} Lot */
/** @typedef {import('../types.js').StepState} StepState */
/** @typedef {import('../types.js').SystemCard} SystemCard */
/** @typedef {import('../types.js').TempoWord} TempoWord */

// Common practice, no source: a rest is looked at each 30 min, air and mould are measured each 1 to
// 2 h, a scale is checked each day, a lot is named a week before it expires, records are copied
// within a week.
const LOOK_AGAIN_MIN = 30;
const CLIMATE_SOON_MIN = 60;
const CLIMATE_OVER_MIN = 120;
const CHECK_MIN = 24 * 60;
const EXPIRY_DAYS = 7;
const COPY_MIN = 7 * 24 * 60;

/** How a clock stands to its limit; `open`: what was waited for may be done. */
export const Tempo = Object.freeze({
  RUNNING: /** @type {const} */ ('running'),
  SOON: /** @type {const} */ ('soon'),
  OVER: /** @type {const} */ ('over'),
  OPEN: /** @type {const} */ ('open'),
});

/**
 * Clocks of one cup: part A waiting, pot life, mixing, resin on the part, a rest that sets.
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {string} nowUtc
 * @param {number | null} temperatureC warmest that counts for the cup, null if not known
 * @returns {Clock[]}
 */
export function cupClocks(cup, system, nowUtc, temperatureC) {
  const found = [
    ...waitingClock(cup, nowUtc),
    ...potClock(cup, system, nowUtc, temperatureC),
    ...mixClock(cup, system, nowUtc),
  ];
  if (cup.state === CupState.IN_USE) {
    // How long it may be worked on the part stands on the sheet, and on no card.
    found.push(clockOf('open_time', cup.code, cup.uses.at(-1)?.at ?? '', '', Tempo.RUNNING));
  }
  if (cup.state === CupState.SETTING) found.push(lookAgain(cup, nowUtc));
  return found;
}

/**
 * @param {string} kind
 * @param {string} about
 * @param {string} since
 * @param {string} nextAt
 * @param {TempoWord} tempo
 * @param {string} [job]
 * @returns {Clock}
 */
function clockOf(kind, about, since, nextAt, tempo, job = '') {
  return { kind, about, job, since, next_at: nextAt, tempo };
}

/**
 * @param {Cup} cup
 * @param {string} nowUtc
 */
function waitingClock(cup, nowUtc) {
  const waited = waiting(cup, nowUtc);
  if (waited === null) return [];
  let leftMin = COVERED_MIN - waited.read_min;
  if (!waited.covered) leftMin = Math.min(leftMin, UNCOVERED_MIN - waited.uncovered_min);
  const tempo = leftMin <= 0 ? Tempo.OVER : Tempo.RUNNING;
  return [clockOf('a_waiting', cup.code, cup.a_read_at, after(nowUtc, leftMin), tempo)];
}

/**
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {string} nowUtc
 * @param {number | null} temperatureC
 */
function potClock({ code, state, first_contact_at: contactAt }, system, nowUtc, temperatureC) {
  if (state === CupState.SETTING || state === CupState.CLOSED || !contactAt) return [];
  const potMin = potLifeMin(system, temperatureC);
  if (potMin === null) return [clockOf('pot', code, contactAt, '', Tempo.RUNNING)];
  const amberAt = after(contactAt, potMin * POT_LIFE_WARN_SHARE);
  const endsAt = after(contactAt, potMin);
  const tempo = tempoOf(nowUtc, amberAt, endsAt);
  return [clockOf('pot', code, contactAt, tempo === Tempo.RUNNING ? amberAt : endsAt, tempo)];
}

/**
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {string} nowUtc
 */
function mixClock(cup, system, nowUtc) {
  if (cup.state !== CupState.MIXING) return [];
  const { scrape_at: scrapeAt, ends_at: endsAt } = mixTimes(cup, system);
  const kind = cup.scraped_at ? 'mixing' : 'scrape';
  const nextAt = cup.scraped_at ? endsAt : scrapeAt;
  // What was waited for may be done then: mixing for longer harms nothing but the pot life.
  const tempo = nextAt && secondsBetween(nextAt, nowUtc) >= 0 ? Tempo.OPEN : Tempo.RUNNING;
  return [clockOf(kind, cup.code, cup.mix_started_at, nextAt, tempo)];
}

/**
 * @param {Cup} cup
 * @param {string} nowUtc
 */
function lookAgain({ code, set_at: setAt }, nowUtc) {
  const goneMin = Math.max(0, secondsBetween(setAt, nowUtc)) / 60;
  const looks = Math.floor(goneMin / LOOK_AGAIN_MIN) + 1;
  return clockOf('setting', code, setAt, after(setAt, looks * LOOK_AGAIN_MIN), Tempo.RUNNING);
}

/**
 * Clocks of one lay-up sheet: what a step waits for, until when it is open, the full cure.
 * @param {readonly StepState[]} steps as the sheet was folded
 * @param {string} job
 * @param {string} nowUtc
 * @returns {Clock[]}
 */
export function stepClocks(steps, job, nowUtc) {
  return steps.flatMap((step) => clocksOfStep(step, job, nowUtc));
}

/**
 * @param {StepState} step
 * @param {string} job
 * @param {string} nowUtc
 */
function clocksOfStep({ step: { name, kind }, state, started_at, opens_at, closes_at, full_at }, job, nowUtc) {
  const found = [];
  if (state === 'waiting' && opens_at) {
    const tempo = secondsBetween(opens_at, nowUtc) >= 0 ? Tempo.OPEN : Tempo.RUNNING;
    found.push(clockOf(`opens_${kind}`, name, started_at, opens_at, tempo, job));
  }
  if (['ready', 'running', 'waiting'].includes(state) && closes_at) {
    const tempo = tempoOf(nowUtc, closes_at, closes_at);
    found.push(clockOf(`closes_${kind}`, name, started_at, closes_at, tempo, job));
  }
  if (state === 'late' && closes_at) {
    found.push(clockOf(`closes_${kind}`, name, started_at, closes_at, Tempo.OVER, job));
  }
  if (kind === 'cure' && full_at && secondsBetween(full_at, nowUtc) < 0) {
    found.push(clockOf('full_cure', name, started_at, full_at, Tempo.RUNNING, job));
  }
  return found;
}

/**
 * When air and mould are to be measured again; at once where they never were.
 * @param {string} measuredAt when the oldest of the three was; empty if never
 * @param {string} nowUtc
 * @returns {Clock}
 */
export function climateClock(measuredAt, nowUtc) {
  if (!measuredAt) return clockOf('climate', '', '', nowUtc, Tempo.OVER);
  const soonAt = after(measuredAt, CLIMATE_SOON_MIN);
  const overAt = after(measuredAt, CLIMATE_OVER_MIN);
  const tempo = tempoOf(nowUtc, soonAt, overAt);
  return clockOf('climate', '', measuredAt, tempo === Tempo.RUNNING ? soonAt : overAt, tempo);
}

/**
 * When a scale that stands still switches itself off, and the reading on it is lost.
 * @param {import('../types.js').ScaleCard} scale
 * @param {string} readAt the last reading on it
 * @param {string} nowUtc
 * @returns {Clock[]} none for a scale that stays on, or whose card does not say
 */
export function autoOffClock(scale, readAt, nowUtc) {
  const nagS = nagAfterS(scale);
  if (nagS === null || scale.auto_off_s === null) return [];
  const soonAt = after(readAt, nagS / 60);
  const overAt = after(readAt, scale.auto_off_s / 60);
  const tempo = tempoOf(nowUtc, soonAt, overAt);
  return [clockOf('auto_off', scale.code, readAt, tempo === Tempo.RUNNING ? soonAt : overAt, tempo)];
}

/**
 * When a scale is to be checked again; at once where it never was.
 * @param {string} scale
 * @param {string} checkedAt
 * @param {string} nowUtc
 * @returns {Clock}
 */
export function checkClock(scale, checkedAt, nowUtc) {
  return daily('check', scale, checkedAt, CHECK_MIN, nowUtc);
}

/**
 * When the records of a phone are to be copied again; it never stops a pour.
 * @param {string} copiedAt
 * @param {string} nowUtc
 * @returns {Clock}
 */
export function copyClock(copiedAt, nowUtc) {
  return daily('copy', '', copiedAt, COPY_MIN, nowUtc);
}

/**
 * @param {string} kind
 * @param {string} about
 * @param {string} doneAt
 * @param {number} minutes
 * @param {string} nowUtc
 */
function daily(kind, about, doneAt, minutes, nowUtc) {
  if (!doneAt) return clockOf(kind, about, '', nowUtc, Tempo.OVER);
  const nextAt = after(doneAt, minutes);
  return clockOf(kind, about, doneAt, nextAt, tempoOf(nowUtc, nextAt, nextAt));
}

/**
 * Lots that expire within a week, or did; a lot may be used until the end of its last day.
 * @param {Iterable<Lot>} lots
 * @param {string} nowUtc
 * @returns {Clock[]}
 */
export function expiryClocks(lots, nowUtc) {
  const found = [];
  for (const lot of lots) {
    if (!lot.expires_on) continue;
    const overAt = after(`${lot.expires_on}T00:00:00.000Z`, 24 * 60);
    const tempo = tempoOf(nowUtc, after(overAt, -EXPIRY_DAYS * 24 * 60), overAt);
    if (tempo !== Tempo.RUNNING) found.push(clockOf('expiry', lot.code, '', overAt, tempo));
  }
  return found;
}

/**
 * Clocks in the order of their next limits; those without one last.
 * @param {Iterable<Clock>} clocks
 * @returns {Clock[]}
 */
export function byNextLimit(clocks) {
  const key = (/** @type {Clock} */ { next_at, kind, about, job }) => [next_at || '~', kind, about, job];
  return [...clocks].sort((one, other) => {
    const [left, right] = [key(one), key(other)];
    const place = left.findIndex((text, index) => text !== right[index]);
    return place < 0 ? 0 : left[place] < right[place] ? -1 : 1;
  });
}

/**
 * @param {string} nowUtc
 * @param {string} soonAt
 * @param {string} overAt
 * @returns {TempoWord}
 */
function tempoOf(nowUtc, soonAt, overAt) {
  if (secondsBetween(overAt, nowUtc) >= 0) return Tempo.OVER;
  return secondsBetween(soonAt, nowUtc) >= 0 ? Tempo.SOON : Tempo.RUNNING;
}

/**
 * @param {string} at
 * @param {number} minutes
 */
function after(at, minutes) {
  return formatUtc(parseUtc(at) + minutes * 60000);
}
