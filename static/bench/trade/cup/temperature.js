/** The temperature a cup is counted at: warmth shortens its time, and a clock never gets longer. */
import { LONGEST_MIN, measured, workshopC } from '../air.js';
import { secondsBetween } from '../times.js';

/** @typedef {import('../../types.js').Row} Row */

// An older figure of the same day still counts: as the warmest of all counts, it can only make a
// limit stricter. Common practice, no source.
const DAY_S = 24 * 3600.0;
const COMPONENTS = ['air', 'mould'];

/**
 * Warmest temperature that counts for a cup: of the air it stands in and of the mould.
 *
 * Before resin meets hardener these are the newest figures of a day. From then on nothing that was
 * measured in the two hours before, or since, is dropped again: what the mix has lived through in
 * the warmth is gone, whatever the thermometer shows later.
 * @param {Iterable<Row>} rows of no cup, in any order
 * @param {string} nowUtc time now, RFC 3339
 * @param {string} [firstContactAt] when resin met hardener, RFC 3339; empty where it did not yet
 * @returns {number | null} degrees Celsius, 0 to 50; null if nothing was measured in time
 */
export function cupTemperatureC(rows, nowUtc, firstContactAt = '') {
  const told = measured(rows, nowUtc).filter(isTemperature);
  let counted = newest(told, nowUtc);
  if (firstContactAt) {
    const before = told.filter((row) => secondsBetween(row.recorded_at, firstContactAt) >= 0);
    counted = [...newest(before, firstContactAt), ...since(told, firstContactAt)];
  }
  return counted.length ? Math.max(...counted.map((row) => Number(row.value))) : null;
}

/** @param {Row} row */
function isTemperature({ component, value }) {
  return COMPONENTS.includes(component) && workshopC(Number(value)) !== null;
}

/**
 * The newest figure of each kind, no older than a day.
 * @param {Row[]} told
 * @param {string} atUtc
 */
function newest(told, atUtc) {
  const found = new Map(told.map((row) => [row.component, row]));
  return [...found.values()].filter((row) => secondsBetween(row.recorded_at, atUtc) <= DAY_S);
}

/**
 * @param {Row[]} told
 * @param {string} firstContactAt
 */
function since(told, firstContactAt) {
  const longestS = LONGEST_MIN * 60;
  return told.filter((row) => secondsBetween(row.recorded_at, firstContactAt) <= longestS);
}
