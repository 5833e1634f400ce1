/**
 * Which temperatures the clocks of a lay-up count at.
 *
 * A clock runs on over night while the shop cools and warms, so no single reading stands for all
 * of it: the one in force when the clock started counts, and every one since.
 */
import { requireTemperature } from './climate.js';
import { orNull } from './errors.js';
import { isWireNumber } from './numbers.js';
import { voidedOf } from './rows.js';
import { parseUtc } from './times.js';

/** @typedef {import('../types.js').MouldReading} MouldReading */
/** @typedef {import('../types.js').Row} Row */

// A reading speaks for the time after it, a day at most; common practice, no source.
const IN_FORCE_MS = 24 * 60 * 60 * 1000;
// Air stands in for a mould that was not measured with it or this long before; common practice,
// no source.
const MOULD_MS = 2 * 60 * 60 * 1000;
// Clocks of two phones may differ by this much; what is further ahead was written by a clock that
// is wrong. Common practice, no source.
export const AHEAD_MS = 10 * 60 * 1000;

/**
 * Readings of the mould, and of the air where the mould was not measured, the oldest first.
 * @param {Iterable<Row>} rows in any order; other kinds, struck rows and figures of no workshop are
 *   passed over
 * @param {string} nowUtc RFC 3339; readings of a clock that runs ahead do not count yet
 * @returns {MouldReading[]}
 */
export function temperatures(rows, nowUtc) {
  const every = [...rows];
  const struck = voidedOf(every);
  const latestMs = parseUtc(nowUtc) + AHEAD_MS;
  const standing = every.filter((row) => !struck.has(row.event_id));
  const mould = readingsOf(standing, 'mould').filter(({ at_ms }) => at_ms <= latestMs);
  const air = readingsOf(standing, 'air').filter(
    (found) => found.at_ms <= latestMs && !isWith(found, mould),
  );
  return [...mould, ...air].sort(
    (one, other) => one.at_ms - other.at_ms || one.temperature_c - other.temperature_c,
  );
}

/**
 * Readings a clock counts at: the last one when it started, and every one since.
 * @param {readonly MouldReading[]} readings the oldest first
 * @param {string} startAt RFC 3339
 * @returns {MouldReading[]} empty where nothing was measured: then the sheet's own figure holds
 */
export function inForce(readings, startAt) {
  const startMs = parseUtc(startAt);
  const before = readings.filter(({ at_ms }) => startMs - IN_FORCE_MS <= at_ms && at_ms <= startMs);
  const firstMs = before.at(-1)?.at_ms ?? startMs;
  return readings.filter(({ at_ms }) => at_ms >= firstMs);
}

/** @param {Row[]} rows  @param {string} component  @returns {MouldReading[]} */
function readingsOf(rows, component) {
  return rows
    .filter((row) => row.kind === 'climate' && row.component === component)
    .map(readingOf)
    .filter((found) => found !== null);
}

/** @param {Row} row */
function readingOf({ value, recorded_at }) {
  if (!isWireNumber(value)) return null;
  return orNull(() => {
    requireTemperature('temperature_c', Number(value));
    return { at_ms: parseUtc(recorded_at), temperature_c: Number(value) };
  });
}

/** @param {MouldReading} air  @param {MouldReading[]} mould */
function isWith(air, mould) {
  return mould.some(({ at_ms }) => air.at_ms - MOULD_MS <= at_ms && at_ms <= air.at_ms);
}
