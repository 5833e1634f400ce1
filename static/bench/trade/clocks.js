/**
 * Clocks that start at the cup.
 *
 * The data sheet's pot life holds for its test mass and temperature. Warmth shortens it; cold
 * never lengthens it by formula. A figure that is not on the card starts no clock.
 */
import { HALVING_STEP_K } from './constants.js';

/** @typedef {import('../types.js').SystemCard} SystemCard */

/**
 * Pot life to count on, whole minutes.
 * @param {SystemCard} system the card of the cup
 * @param {number | null} temperatureC temperature of the shop, degrees Celsius, null if not known
 * @returns {number | null} minutes rounded down, never more than the sheet says; null if not on
 *   the card
 */
export function potLifeMin(system, temperatureC) {
  const sheet = system.pot_life;
  if (sheet === null) return null;
  if (temperatureC === null || temperatureC <= sheet.temperature_c) {
    return Math.floor(sheet.minutes);
  }
  const steps = (temperatureC - sheet.temperature_c) / HALVING_STEP_K;
  return Math.floor(sheet.minutes * 2.0 ** -steps);
}
