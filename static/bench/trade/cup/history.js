/** What the standing rows of a cup say besides its readings: acts, reasons, times, its end. */
import { isWireNumber } from '../numbers.js';
import { MIXED_EARLY } from './mixing.js';
import { OVER } from './pot-clock.js';

/** @typedef {import('../../types.js').Cover} Cover */
/** @typedef {import('../../types.js').LotUse} LotUse */
/** @typedef {import('../../types.js').Row} Row */
/** @typedef {import('../../types.js').Use} Use */

/**
 * Kinds that end a cup. What is left in it may still have to set.
 * @type {ReadonlySet<string>}
 */
export const ENDINGS = new Set(['scrapped', 'sampled', 'leftover', 'divided']);

/** @type {ReadonlySet<string>} */
const READINGS = new Set(['weighed', 'scale_restarted']);

/**
 * Cans whose content went in, each with the reason why it was let pass, if one was needed.
 * @param {readonly Row[]} standing
 * @returns {LotUse[]}
 */
export function lotsOf(standing) {
  const deviations = standing.filter((row) => row.kind === 'deviation');
  const reasons = new Map(deviations.map((row) => [row.refers_to, row.note]));
  return standing
    .filter((row) => row.kind === 'lot_used')
    .map(({ component, lot, container, event_id }) => ({
      component,
      lot,
      container,
      event_id,
      reason: reasons.get(event_id) ?? '',
    }));
}

/**
 * Steps it was poured into.
 * @param {readonly Row[]} standing
 * @returns {Use[]}
 */
export function usesOf(standing) {
  return standing
    .filter((row) => row.kind === 'poured')
    .map((row) => ({ job: row.job, step: row.step, at: row.recorded_at }));
}

/**
 * When something was laid on it, or taken off.
 * @param {readonly Row[]} standing
 * @returns {Cover[]}
 */
export function coversOf(standing) {
  return standing
    .filter((row) => row.kind === 'covered' || row.kind === 'uncovered')
    .map((row) => ({ at: row.recorded_at, on: row.kind === 'covered' }));
}

/**
 * Reason under which a cup out of tolerance may be used, if one was written.
 * @param {readonly Row[]} standing
 * @returns {string}
 */
export function deviationOf(standing) {
  const weighed = standing.filter((row) => row.kind === 'weighed');
  const readings = new Set(weighed.map((row) => row.event_id));
  const ofVerdict = (/** @type {Row} */ row) => row.shown !== OVER && row.shown !== MIXED_EARLY;
  const reasons = standing
    .filter((row) => row.kind === 'deviation' && readings.has(row.refers_to) && ofVerdict(row))
    .map((row) => row.note);
  return reasons.at(-1) ?? '';
}

/**
 * Reason under which a cup goes on although a clock speaks against it; it lets no ratio pass.
 * @param {readonly Row[]} standing
 * @param {string} shown  what spoke against it, as it stands in the row
 * @returns {string}
 */
export function reasonShown(standing, shown) {
  const reasons = standing.filter((row) => row.kind === 'deviation' && row.shown === shown);
  return reasons.at(-1)?.note ?? '';
}

/**
 * When the first row of a kind was written; empty where there is none.
 * @param {readonly Row[]} standing
 * @param {string} kind
 * @returns {string}
 */
export function firstAt(standing, kind) {
  return standing.find((row) => row.kind === kind)?.recorded_at ?? '';
}

/**
 * When hardener was opened; a cup whose opening was never recorded counts from its first B.
 * @param {readonly Row[]} standing
 * @returns {string}
 */
export function firstContactAt(standing) {
  return firstAt(standing, 'pour_opened') || readAt(standing, 'b').first;
}

/**
 * When a component was read first, and last, which may be it read again.
 * @param {readonly Row[]} standing
 * @param {string} component
 */
export function readAt(standing, component) {
  const times = standing
    .filter((row) => READINGS.has(row.kind) && row.component === component)
    .map((row) => row.recorded_at);
  return { first: times[0] ?? '', last: times.at(-1) ?? '' };
}

/**
 * The row that ended it.
 * @param {readonly Row[]} standing
 */
export function endingOf(standing) {
  return standing.find((row) => ENDINGS.has(row.kind));
}

/**
 * The row that says since when, and where, its rest is left to set.
 * @param {readonly Row[]} standing
 */
export function settingOf(standing) {
  return standing.find((row) => row.kind === 'setting');
}

/**
 * A figure of the log; null where there is none.
 * @param {string} text
 * @returns {number | null}
 */
export function numberOf(text) {
  return isWireNumber(text) ? Number(text) : null;
}
