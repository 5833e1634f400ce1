/**
 * Air and mould of the shop, folded from what was measured.
 *
 * Three readings count together: air, humidity, and the mould where the laminate will lie. Each is
 * the newest of its kind; none counts longer than two hours.
 */
import {
  LEAST_MARGIN_K,
  dewPointC,
  largestHumidityPct,
  marginK,
  mayLayUp,
  requireTemperature,
} from './climate.js';
import { orNull } from './errors.js';
import { fixed, isWireNumber } from './numbers.js';
import { voidedOf } from './rows.js';
import { secondsBetween } from './times.js';

/** @typedef {import('../types.js').Air} Air */
/** @typedef {import('../types.js').Row} Row */

/** Air and mould are measured again each 1 to 2 h; common practice, no source. */
export const LONGEST_MIN = 120.0;
// Clocks of two phones may differ by this much; a reading from further ahead comes from a clock
// that was wrong, and would hide every later one. Common practice, no source.
const AHEAD_MIN = 10.0;
const COMPONENTS = ['air', 'humidity', 'mould'];
// Moments are compared by their distance from here: how many digits a second has differs.
const EPOCH = '2000-01-01T00:00:00.000Z';

/**
 * Whether a mould may be laid up; ASK where something is missing, too old, or no figure of a
 * workshop: measure again.
 */
export const AirWord = Object.freeze({
  GO: /** @type {const} */ ('go'),
  HOLD: /** @type {const} */ ('hold'),
  ASK: /** @type {const} */ ('ask'),
});

/**
 * The shop's air and mould from rows of kind `climate`.
 * @param {Iterable<Row>} rows in any order; other kinds are passed over, struck rows too
 * @param {string} nowUtc time now, RFC 3339
 * @returns {Air}
 */
export function foldAir(rows, nowUtc) {
  const newest = new Map(measured(rows, nowUtc).map((row) => [row.component, row]));
  const [air, humidity, mould] = COMPONENTS.map((name) => newest.get(name));
  const oldest = [...newest.values()].sort(inOrder)[0];
  const ageMin = ageOf(oldest, nowUtc);
  const [airC, humidityPct, mouldC] = [figureOf(air), figureOf(humidity), figureOf(mould)];
  const { dewC, margin } = judged(airC, humidityPct, mouldC);
  return {
    air_c: airC,
    humidity_pct: humidityPct,
    mould_c: mouldC,
    measured_at: oldest?.recorded_at ?? '',
    age_min: ageMin,
    air_age_min: ageOf(air, nowUtc),
    mould_age_min: ageOf(mould, nowUtc),
    dew_point_c: dewC,
    margin_k: margin,
    word: wordOf(margin, ageMin),
  };
}

/**
 * Temperature the laminate lies at: the mould's, else the air's.
 * @param {Air} air
 * @returns {number | null} degrees Celsius, 0 to 50; null if neither was measured in the last two
 *   hours
 */
export function workTemperatureC(air) {
  const mouldC = inTime(air.mould_c, air.mould_age_min);
  return mouldC === null ? inTime(air.air_c, air.air_age_min) : mouldC;
}

/**
 * The colder of air and mould, for the least temperature a sheet asks for.
 * @param {Air} air
 * @returns {number | null} degrees Celsius, 0 to 50; null if neither was measured in the last two
 *   hours
 */
export function coldestC(air) {
  const both = measuredInTime(air);
  return both.length ? Math.min(...both) : null;
}

/**
 * A margin with one decimal, never rounded up to the least that is asked.
 * @param {number} margin kelvin
 * @returns {string}
 */
export function shownMarginK(margin) {
  return fixed(mayLayUp(margin) ? margin : Math.min(margin, LEAST_MARGIN_K - 0.1), 1);
}

/**
 * Humidity up to which this mould keeps its margin, whole per cent, rounded down.
 * @param {Air} air
 * @returns {number | null} null where air or mould was not measured or is out of the formula's
 *   range
 */
export function humidityLimitPct(air) {
  const { air_c: airC, mould_c: mouldC } = air;
  if (airC === null || mouldC === null) return null;
  return orNull(() => Math.floor(largestHumidityPct(mouldC, airC) + 1e-9));
}

/**
 * Readings of air, humidity and mould that stand, the oldest first.
 * @param {Iterable<Row>} rows in any order; other kinds are passed over, struck rows and those of a
 *   clock that was wrong too
 * @param {string} nowUtc time now, RFC 3339
 * @returns {Row[]}
 */
export function measured(rows, nowUtc) {
  const told = [...rows];
  const struck = voidedOf(told);
  return told.filter((row) => !struck.has(row.event_id) && counts(row, nowUtc)).sort(inOrder);
}

/**
 * A temperature as it is; null where no workshop has it (outside 0 to 50 degrees Celsius).
 * @param {number} valueC
 * @returns {number | null}
 */
export function workshopC(valueC) {
  return orNull(() => {
    requireTemperature('temperature_c', valueC);
    return valueC;
  });
}

/**
 * @param {Row} row
 * @param {string} nowUtc
 */
function counts(row, nowUtc) {
  if (row.kind !== 'climate' || !COMPONENTS.includes(row.component)) return false;
  if (!isWireNumber(row.value)) return false;
  const aheadS = orNull(() => secondsBetween(nowUtc, row.recorded_at));
  return aheadS !== null && aheadS <= AHEAD_MIN * 60;
}

/**
 * @param {Row} one
 * @param {Row} other
 */
function inOrder(one, other) {
  const apart = secondsBetween(EPOCH, one.recorded_at) - secondsBetween(EPOCH, other.recorded_at);
  if (apart !== 0) return apart;
  if (one.log_id !== other.log_id) return one.log_id < other.log_id ? -1 : 1;
  return one.seq - other.seq;
}

/** @param {Row | undefined} row */
function figureOf(row) {
  return row === undefined ? null : Number(row.value);
}

/**
 * @param {Row | undefined} row
 * @param {string} nowUtc
 */
function ageOf(row, nowUtc) {
  return row === undefined ? null : Math.max(0.0, secondsBetween(row.recorded_at, nowUtc) / 60);
}

/**
 * @param {number | null} airC
 * @param {number | null} humidityPct
 * @param {number | null} mouldC
 * @returns {{ dewC: number | null, margin: number | null }}
 */
function judged(airC, humidityPct, mouldC) {
  if (airC === null || humidityPct === null) return { dewC: null, margin: null };
  const both = orNull(() => ({
    dewC: dewPointC(airC, humidityPct),
    margin: mouldC === null ? null : marginK(mouldC, airC, humidityPct),
  }));
  return both ?? { dewC: null, margin: null };
}

/**
 * @param {number | null} margin
 * @param {number | null} ageMin
 */
function wordOf(margin, ageMin) {
  if (margin === null || ageMin === null || ageMin > LONGEST_MIN) return AirWord.ASK;
  return mayLayUp(margin) ? AirWord.GO : AirWord.HOLD;
}

/** @param {Air} air */
function measuredInTime(air) {
  const both = [inTime(air.air_c, air.air_age_min), inTime(air.mould_c, air.mould_age_min)];
  return both.filter((value) => value !== null);
}

/**
 * @param {number | null} valueC
 * @param {number | null} ageMin
 */
function inTime(valueC, ageMin) {
  if (valueC === null || ageMin === null || ageMin > LONGEST_MIN) return null;
  return workshopC(valueC);
}
