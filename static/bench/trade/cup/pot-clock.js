/** The pot clock of a cup: how much of its time is gone. */
import { potLifeMin } from '../clocks.js';
import { POT_LIFE_WARN_SHARE } from '../constants.js';
import { formatUtc, parseUtc, secondsBetween } from '../times.js';
import { CupState } from './progress.js';

/** @typedef {import('../../types.js').Caution} Caution */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').CupStateWord} CupStateWord */
/** @typedef {import('../../types.js').SystemCard} SystemCard */

/** What stands in the row with the reason under which a cup goes on past its pot life, too. */
export const OVER = /** @type {const} */ ('pot_life_over');
/** @type {ReadonlySet<CupStateWord>} */
const RUNS = new Set([CupState.JUDGED, CupState.MIXING, CupState.MIXED, CupState.IN_USE]);

/**
 * When the pot life of a cup is over, RFC 3339.
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {number | null} temperatureC warmest that counts for the cup, degrees Celsius, null if not
 *   known
 * @returns {string} empty where no hardener is in it, or the card names no pot life
 */
export function potLifeEndsAt(cup, system, temperatureC) {
  const potMin = potLifeMin(system, temperatureC);
  if (potMin === null || !cup.first_contact_at) return '';
  return formatUtc(parseUtc(cup.first_contact_at) + potMin * 60000);
}

/**
 * What the pot clock says of a mix that is whole: nothing, nearly over, or over.
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {string} nowUtc
 * @param {number | null} temperatureC
 * @returns {Caution[]} at most one of `pot_life_amber` (from 75 % of the pot life) and
 *   `pot_life_over`
 */
export function potCautions(cup, system, nowUtc, temperatureC) {
  const potMin = potLifeMin(system, temperatureC);
  if (potMin === null || !cup.first_contact_at || !RUNS.has(cup.state)) return [];
  const goneS = secondsBetween(cup.first_contact_at, nowUtc);
  const wholeS = potMin * 60;
  if (goneS >= wholeS) return [OVER];
  return goneS >= wholeS * POT_LIFE_WARN_SHARE ? ['pot_life_amber'] : [];
}
