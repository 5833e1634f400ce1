/**
 * When a step of the lay-up may begin, and until when: release coats, tack windows, cure.
 *
 * Limits go to the safe side: what opens is rounded up to the minute, what closes is rounded down;
 * a window opens at the later and closes at the earlier of sheet and temperature. What opens counts
 * at the coldest that was measured since its clock started, what closes at the warmest, so that no
 * later reading moves a limit to the unsafe side. A figure that is not on the card starts no clock.
 */
import { inForce } from './lay-up-warmth.js';
import { formatUtc, parseUtc } from './times.js';
import { halvedMin, windowMin } from './warmth.js';

/** @typedef {import('../types.js').Cure} Cure */
/** @typedef {import('../types.js').Limits} Limits */
/** @typedef {import('../types.js').MouldReading} MouldReading */
/** @typedef {import('../types.js').ReleaseAgent} ReleaseAgent */
/** @typedef {import('../types.js').SystemCard} SystemCard */
/** @typedef {import('../types.js').TackWindow} TackWindow */

const MINUTE_MS = 60000;
// Takes the last bits of a product of minutes off before it is rounded, ms.
const NOISE_MS = 1e-6;
/** @type {Readonly<Limits>} */
export const NO_LIMITS = Object.freeze({
  opens_at: '', closes_at: '', missing: false, coldest_c: null, warmest_c: null,
});
const MISSING = Object.freeze({ ...NO_LIMITS, missing: true });

/**
 * When the next step may follow a coat of release agent.
 * @param {ReleaseAgent | null} agent null where its card is not known
 * @param {boolean} isLast whether what follows is no further coat
 * @param {string} doneAt end of the coat, RFC 3339
 * @returns {Limits}
 */
export function releaseLimits(agent, isLast, doneAt) {
  if (agent === null) return MISSING;
  const waitMin = (isLast ? agent.last_min : agent.between_min) ?? null;
  const oldMin = (isLast ? agent.too_old_min : null) ?? null;
  return {
    ...NO_LIMITS,
    opens_at: waitMin === null ? '' : opening(doneAt, waitMin),
    closes_at: oldMin === null ? '' : closing(doneAt, oldMin),
    missing: waitMin === null,
  };
}

/**
 * When the next layer bonds by itself on a coat or ply.
 * @param {SystemCard | null} system
 * @param {string} doneAt end of the coat or ply, RFC 3339; the window opens so long after it
 * @param {string} closesFrom when it lay at the earliest; the window closes so long after that
 * @param {readonly MouldReading[]} readings the oldest first; none takes the sheet's times as they are
 * @returns {Limits}
 */
export function tackLimits(system, doneAt, closesFrom, readings) {
  const tack = system?.tack ?? null;
  if (tack === null || !(0 < tack.opens_min && tack.opens_min < tack.closes_min)) return MISSING;
  const coldest_c = coldestSince(readings, doneAt);
  const opens_at = opening(doneAt, windowAt(tack, coldest_c)[0]);
  const { closes_at, warmest_c } = closed(tack, closesFrom, readings);
  return { opens_at, closes_at, missing: false, coldest_c, warmest_c };
}

/**
 * When the part may leave the mould: the longer of sheet and temperature.
 * @param {SystemCard | null} system
 * @param {string} doneAt end of the last layer, RFC 3339
 * @param {readonly MouldReading[]} readings the oldest first
 * @returns {Limits}
 */
export function cureLimits(system, doneAt, readings) {
  const cure = system?.cure ?? null;
  if (cure === null || !(cure.demould_min > 0)) return MISSING;
  const coldest_c = coldestSince(readings, doneAt);
  const opens_at = opening(doneAt, slowedMin(cure.demould_min, cure, coldest_c));
  return { ...NO_LIMITS, opens_at, coldest_c };
}

/**
 * From when the part has fully cured, and may be cut and sanded.
 * @param {SystemCard | null} system
 * @param {string} doneAt end of the last layer, RFC 3339
 * @param {readonly MouldReading[]} readings the oldest first
 * @returns {string} RFC 3339; empty where the card does not say it
 */
export function fullCureAt(system, doneAt, readings) {
  const cure = system?.cure ?? null;
  if (cure === null || cure.full_min === null || !(cure.full_min > 0)) return '';
  return opening(doneAt, slowedMin(cure.full_min, cure, coldestSince(readings, doneAt)));
}

/**
 * Whether shop or mould is colder than the sheet lets one work.
 * @param {SystemCard | null} system
 * @param {number | null} coldestC the colder of air and mould; null where neither was measured
 * @returns {boolean}
 */
export function isTooCold(system, coldestC) {
  const leastC = system?.minimum_c ?? null;
  return leastC !== null && coldestC !== null && coldestC < leastC;
}

/** @param {readonly MouldReading[]} readings  @param {string} startAt  @returns {number | null} */
function coldestSince(readings, startAt) {
  const counted = inForce(readings, startAt).map(({ temperature_c }) => temperature_c);
  return counted.length ? Math.min(...counted) : null;
}

/**
 * When a window closes, and the temperature it was counted at. A reading from after it had closed
 * says nothing about the time before.
 * @param {TackWindow} tack
 * @param {string} closesFrom
 * @param {readonly MouldReading[]} readings
 */
function closed(tack, closesFrom, readings) {
  /** @type {number | null} */
  let warmest_c = null;
  let closes_at = closing(closesFrom, tack.closes_min);
  for (const { at_ms, temperature_c } of inForce(readings, closesFrom)) {
    if (at_ms >= parseUtc(closes_at)) break;
    warmest_c = warmest_c === null ? temperature_c : Math.max(warmest_c, temperature_c);
    closes_at = closing(closesFrom, windowAt(tack, warmest_c)[1]);
  }
  return { closes_at, warmest_c };
}

/** @param {TackWindow} tack  @param {number | null} temperatureC  @returns {[number, number]} */
function windowAt({ opens_min, closes_min, temperature_c }, temperatureC) {
  return windowMin(opens_min, closes_min, temperature_c, temperatureC ?? temperature_c);
}

/** @param {number} minutes  @param {Cure} cure  @param {number | null} temperatureC */
function slowedMin(minutes, { temperature_c }, temperatureC) {
  return Math.max(minutes, halvedMin({ minutes, temperature_c }, temperatureC ?? temperature_c));
}

/**
 * So many minutes later, rounded up to the minute.
 * @param {string} at
 * @param {number} minutes
 */
function opening(at, minutes) {
  const momentMs = parseUtc(at) + Math.ceil(minutes * MINUTE_MS - NOISE_MS);
  return formatUtc(Math.ceil(momentMs / MINUTE_MS) * MINUTE_MS);
}

/**
 * So many minutes later, rounded down to the minute.
 * @param {string} at
 * @param {number} minutes
 */
function closing(at, minutes) {
  const momentMs = parseUtc(at) + Math.floor(minutes * MINUTE_MS + NOISE_MS);
  return formatUtc(Math.floor(momentMs / MINUTE_MS) * MINUTE_MS);
}
