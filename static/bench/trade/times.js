/**
 * Times of the log: RFC 3339 in UTC with milliseconds, `2026-03-07T10:14:00.000Z`.
 * A moment is a number of milliseconds since 1970-01-01T00:00:00Z.
 */
import { OutOfRange } from './errors.js';

// The clock stands in the pattern: which hours a parser lets pass differs between engines.
const WIRE_TIME =
  /^([0-9]{4}-[0-9]{2}-[0-9]{2}T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9])(?:\.([0-9]{1,6}))?(?:Z|([+-])([01][0-9]|2[0-3]):([0-5][0-9]))$/;
const FIRST_MS = -62135596800000; // 0001-01-01, the first day the server knows
const END_MS = 253402300800000; // 10000-01-01, the first day it does not know

/**
 * Read a time with its offset.
 * @param {string} text RFC 3339 date-time; the offset is mandatory
 * @returns {number} the same moment, whole milliseconds since 1970 in UTC, rounded down
 * @throws {OutOfRange} the text is no such time
 */
export function parseUtc(text) {
  return momentOf(text).ms;
}

/**
 * Write a moment as the log does: UTC, milliseconds, Z.
 * @param {number} moment milliseconds since 1970 in UTC
 * @returns {string}
 * @throws {OutOfRange} the moment lies outside the years 1 to 9999
 */
export function formatUtc(moment) {
  if (!(moment >= FIRST_MS && moment < END_MS)) {
    throw new OutOfRange('moment', moment, 'a moment in the years 1 to 9999');
  }
  return new Date(Math.floor(moment)).toISOString();
}

/**
 * Seconds from one time of the log to another; negative if the second is earlier.
 * @param {string} earlier
 * @param {string} later
 * @returns {number}
 * @throws {OutOfRange} a text is no time of the log
 */
export function secondsBetween(earlier, later) {
  const from = momentOf(earlier);
  const to = momentOf(later);
  // Whole microseconds before the one division, so that no rounding comes in twice.
  return ((to.ms - from.ms) * 1000 + (to.us - from.us)) / 1000000;
}

/**
 * @param {string} text
 * @returns {{ ms: number, us: number }} whole milliseconds, and the microseconds beyond them
 */
function momentOf(text) {
  const [, clock = '', fraction = '', sign, hours, minutes] = WIRE_TIME.exec(text) ?? [];
  const offsetMin = sign ? Number(`${sign}1`) * (Number(hours) * 60 + Number(minutes)) : 0;
  const micros = Number(fraction.padEnd(6, '0'));
  const us = micros % 1000;
  const ms = localMs(clock) + (micros - us) / 1000 - offsetMin * 60000;
  if (!(ms >= FIRST_MS && ms < END_MS)) {
    throw new OutOfRange('time', text, 'a time such as 2026-03-07T10:14:00.000Z');
  }
  return { ms, us };
}

/**
 * A date and time of day as if it were UTC; NaN for one that is in no calendar. The engine lets
 * 30 February run over into March, which the way back shows.
 * @param {string} clock `2026-03-07T10:14:00`
 * @returns {number}
 */
function localMs(clock) {
  const ms = Date.parse(`${clock}Z`);
  if (!clock || Number.isNaN(ms) || clock.startsWith('0000')) return NaN;
  return new Date(ms).toISOString().startsWith(clock) ? ms : NaN;
}
