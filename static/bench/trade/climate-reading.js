/**
 * Checks on a typed figure of air or mould before it is taken.
 *
 * Slips of the unit are named: a share typed in place of a percentage is asked about, degrees
 * Fahrenheit are refused; nothing is put right silently.
 */
import { requireHumidity, requireTemperature } from './climate.js';
import { orNull } from './errors.js';
import { decimalsOf, entryNumber, fixed, parseEntry } from './numbers.js';

/** @typedef {import('../types.js').ClimateCheck} ClimateCheck */

// Zero and step of the Fahrenheit scale; exact by definition.
const ZERO_F = 32.0;
const C_PER_F = 5 / 9;
// No thermometer of a workshop shows more; higher figures are slips of the keys.
const WARMEST_F = 122.0;

/**
 * Judge a typed figure.
 * @param {string} component `air` or `mould` in degrees Celsius, `humidity` in per cent
 * @param {string} typed what the person entered
 * @param {boolean} [confirmed] true once the person has said that the proposal is meant
 * @returns {ClimateCheck} the value to record, or the problem: those of `parseEntry`, `share`,
 *   `fahrenheit`, `range`
 */
export function checkClimate(component, typed, confirmed = false) {
  const entry = parseEntry(typed);
  if (entry.problem) return climateCheck({ problem: entry.problem });
  if (component === 'humidity') return humidityCheck(entry.value, confirmed);
  const number = entryNumber(entry);
  if (orNull(() => requireTemperature(component, number)) === null) return tooWarm(number);
  return climateCheck({ value: entry.value });
}

/**
 * @param {Partial<ClimateCheck>} part
 * @returns {ClimateCheck}
 */
function climateCheck(part) {
  return { value: '', problem: '', ask: false, proposal: '', ...part };
}

/**
 * @param {string} value
 * @param {boolean} confirmed
 */
function humidityCheck(value, confirmed) {
  const number = Number(value);
  if (number > 0.01 && number <= 1) {
    const meant = fixed(number * 100, Math.max(0, decimalsOf(value) - 2));
    if (confirmed) return climateCheck({ value: meant });
    return climateCheck({ problem: 'share', ask: true, proposal: meant });
  }
  const refused = orNull(() => requireHumidity(number)) === null;
  return climateCheck(refused ? { problem: 'range' } : { value });
}

/** @param {number} number */
function tooWarm(number) {
  if (number > WARMEST_F) return climateCheck({ problem: 'range' });
  return climateCheck({ problem: 'fahrenheit', proposal: fixed((number - ZERO_F) * C_PER_F, 1) });
}
