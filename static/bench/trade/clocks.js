/**
 * Clocks that start at the cup.
 *
 * The data sheet's pot life holds for its test mass and temperature. Warmth shortens it; cold
 * never lengthens it by formula. A figure that is not on the card starts no clock.
 */
import { orNull } from './errors.js';
import { largestCupG, shortenedMin } from './warmth.js';

/** @typedef {import('../types.js').PotLife} PotLife */
/** @typedef {import('../types.js').SystemCard} SystemCard */

/**
 * Pot life to count on, whole minutes.
 * @param {SystemCard} system the card of the cup
 * @param {number | null} temperatureC temperature of the shop, degrees Celsius, null if not known
 * @returns {number | null} minutes rounded down, never more than the sheet says at its reference
 *   point, which is `pot_life`; null if not on the card
 */
export function potLifeMin(system, temperatureC) {
  const sheet = system.pot_life;
  if (sheet === null) return null;
  const longestMin = Math.floor(sheet.minutes);
  if (temperatureC === null) return longestMin;
  return Math.min(longestMin, shortened(sheet, system.more_pot_life ?? [], temperatureC));
}

/**
 * Largest cup of a system in this shop, grams; never more than its card says.
 * @param {SystemCard} system
 * @param {number | null} temperatureC temperature of the shop, degrees Celsius, null if not known
 * @returns {number} the card's figure where it names no temperature, or the shop's is not known;
 *   else whole grams
 */
export function largestMixG(system, temperatureC) {
  if (temperatureC === null || system.pot_life === null) return system.largest_cup_g;
  const sheetC = system.pot_life.temperature_c;
  if (temperatureC <= sheetC) return system.largest_cup_g;
  return largestCupG(system.largest_cup_g, sheetC, temperatureC);
}

/**
 * @param {PotLife} sheet
 * @param {PotLife[]} more
 * @param {number} temperatureC
 */
function shortened(sheet, more, temperatureC) {
  const minutes = orNull(() => shortenedMin([sheet, ...more], temperatureC));
  // Points that contradict each other (longer when warmer) must not stop a cup that is under way:
  // the reference alone still shortens.
  return minutes ?? shortenedMin([sheet], temperatureC);
}
