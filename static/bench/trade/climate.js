/**
 * Air and mould: the dew point, and how far the mould is above it.
 *
 * Magnus formula over water with the constants of WMO-No. 8, Annex 4.B. Blush of an amine hardener
 * can come above the dew point; the margin is a rule against water on the mould, not against blush.
 */
import { OutOfRange } from './errors.js';

// WMO-No. 8, Annex 4.B: hPa, 1 and degrees Celsius.
const AT_ZERO_HPA = 6.112;
const SLOPE = 17.62;
const OFFSET_C = 243.12;
/** Mould above dew point, as ISO 8502-4 and ISO 12944-7 ask of painting (quoted at second hand). */
export const LEAST_MARGIN_K = 3.0;
// Where nobody laminates and the formula is not asked.
const COLDEST_C = 0.0;
const WARMEST_C = 50.0;

/**
 * Pressure of saturated water vapour, hPa.
 * @param {number} airC degrees Celsius, 0 to 50
 * @returns {number}
 * @throws {OutOfRange} outside of that
 */
export function saturationHpa(airC) {
  requireTemperature('air_c', airC);
  return AT_ZERO_HPA * Math.exp((SLOPE * airC) / (OFFSET_C + airC));
}

/**
 * Temperature at which this air wets a surface, degrees Celsius.
 * @param {number} airC degrees Celsius, 0 to 50
 * @param {number} humidityPct relative humidity, above 1 and at most 100
 * @returns {number}
 * @throws {OutOfRange} outside of that; 0.6 for 60 % is
 */
export function dewPointC(airC, humidityPct) {
  requireTemperature('air_c', airC);
  requireHumidity(humidityPct);
  const g = Math.log(humidityPct / 100) + (SLOPE * airC) / (OFFSET_C + airC);
  return (OFFSET_C * g) / (SLOPE - g);
}

/**
 * How far the mould is above the dew point, kelvin.
 * @param {number} mouldC measured on the mould, not taken from the air, 0 to 50 degrees Celsius
 * @param {number} airC
 * @param {number} humidityPct
 * @returns {number}
 * @throws {OutOfRange} a figure outside its range
 */
export function marginK(mouldC, airC, humidityPct) {
  requireTemperature('mould_c', mouldC);
  return mouldC - dewPointC(airC, humidityPct);
}

/**
 * Whether the mould is far enough above the dew point; the guard keeps binary noise out.
 * @param {number} margin kelvin
 * @returns {boolean}
 */
export function mayLayUp(margin) {
  return margin >= LEAST_MARGIN_K - 1e-9;
}

/**
 * Humidity up to which the mould keeps its margin, at most 100 %.
 * @param {number} mouldC
 * @param {number} airC
 * @param {number} [margin] kelvin
 * @returns {number}
 * @throws {OutOfRange} a figure outside its range
 */
export function largestHumidityPct(mouldC, airC, margin = LEAST_MARGIN_K) {
  requireTemperature('mould_c', mouldC);
  const allowedC = mouldC - margin;
  requireTemperature('mould_c', allowedC);
  return Math.min(100.0, (100 * saturationHpa(allowedC)) / saturationHpa(airC));
}

/**
 * Refuse a temperature no workshop has.
 * @param {string} field
 * @param {number} valueC
 * @throws {OutOfRange} below 0 or above 50 degrees Celsius
 */
export function requireTemperature(field, valueC) {
  if (!(COLDEST_C <= valueC && valueC <= WARMEST_C)) {
    throw new OutOfRange(field, valueC, `${COLDEST_C} to ${WARMEST_C} degrees Celsius`);
  }
}

/**
 * Refuse a humidity that is none; a share in place of a percentage is one of them.
 * @param {number} humidityPct
 * @throws {OutOfRange} not above 1 and at most 100
 */
export function requireHumidity(humidityPct) {
  if (!(humidityPct > 1 && humidityPct <= 100)) {
    throw new OutOfRange('humidity_pct', humidityPct, 'above 1 and at most 100, in percent');
  }
}
