/**
 * When a step of the lay-up may begin, and until when: release coats, tack windows, cure.
 *
 * Limits go to the safe side: what opens is rounded up to the minute, what closes is rounded down;
 * a window opens at the later and closes at the earlier of sheet and temperature. A figure that is
 * not on the card starts no clock.
 */
import { formatUtc, parseUtc } from './times.js';
import { halvedMin, windowMin } from './warmth.js';

/** @typedef {import('../types.js').Limits} Limits */
/** @typedef {import('../types.js').ReleaseAgent} ReleaseAgent */
/** @typedef {import('../types.js').SystemCard} SystemCard */

const MINUTE_MS = 60000;
// Takes the last bits of a product of minutes off before it is rounded, ms.
const NOISE_MS = 1e-6;
/** @type {Readonly<Limits>} */
export const NO_LIMITS = Object.freeze({ opens_at: '', closes_at: '', missing: false });
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
    opens_at: waitMin === null ? '' : opening(doneAt, waitMin),
    closes_at: oldMin === null ? '' : closing(doneAt, oldMin),
    missing: waitMin === null,
  };
}

/**
 * When the next layer bonds by itself on a coat or ply.
 * @param {SystemCard | null} system
 * @param {string} doneAt end of the coat or ply, RFC 3339
 * @param {number | null} temperatureC of the mould or shop; null takes the sheet's times as they are
 * @returns {Limits}
 */
export function tackLimits(system, doneAt, temperatureC) {
  const tack = system?.tack ?? null;
  if (tack === null || !(0 < tack.opens_min && tack.opens_min < tack.closes_min)) return MISSING;
  const sheetC = tack.temperature_c;
  const atC = temperatureC ?? sheetC;
  const [opensMin, closesMin] = windowMin(tack.opens_min, tack.closes_min, sheetC, atC);
  return { opens_at: opening(doneAt, opensMin), closes_at: closing(doneAt, closesMin), missing: false };
}

/**
 * When the part may leave the mould: the longer of sheet and temperature.
 * @param {SystemCard | null} system
 * @param {string} doneAt end of the last layer, RFC 3339
 * @param {number | null} temperatureC
 * @returns {Limits}
 */
export function cureLimits(system, doneAt, temperatureC) {
  const cure = system?.cure ?? null;
  if (cure === null || !(cure.demould_min > 0)) return MISSING;
  const { demould_min: minutes, temperature_c: sheetC } = cure;
  const scaledMin = halvedMin({ minutes, temperature_c: sheetC }, temperatureC ?? sheetC);
  return { ...NO_LIMITS, opens_at: opening(doneAt, Math.max(minutes, scaledMin)) };
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
