/**
 * How warmth changes times: working time, tack windows and cure.
 *
 * With two points of the data sheet or more, Arrhenius between its two nearest; with one, halving
 * per 10 degrees C. Limits go to the safe side: warmth shortens a time, cold never lengthens it
 * beyond the sheet, a window opens at the later and closes at the earlier of sheet and formula.
 */
import { HALVING_STEP_K } from './constants.js';
import { OutOfRange, requirePositive } from './errors.js';

/** @typedef {import('../types.js').TimePoint} TimePoint */

/** CODATA 2018, exact, J/(mol K). */
export const GAS_CONSTANT_J_MOL_K = 8.314462618;
/** Zero of the Celsius scale, exact by definition, K. */
export const ZERO_C_IN_K = 273.15;

/**
 * Activation energy that two times at two temperatures mean, J/mol.
 * @param {TimePoint} one
 * @param {TimePoint} other
 * @returns {number}
 * @throws {OutOfRange} a time not above zero, or twice the same temperature
 */
export function activationEnergyJMol(one, other) {
  requirePositive('minutes', one.minutes);
  requirePositive('minutes', other.minutes);
  if (one.temperature_c === other.temperature_c) {
    throw new OutOfRange('temperature_c', one.temperature_c, 'two temperatures that differ');
  }
  const inverse = 1 / kelvin(one.temperature_c) - 1 / kelvin(other.temperature_c);
  return (GAS_CONSTANT_J_MOL_K * Math.log(one.minutes / other.minutes)) / inverse;
}

/**
 * A time at another temperature, minutes.
 * @param {TimePoint} point
 * @param {number} energyJMol activation energy, > 0
 * @param {number} temperatureC
 * @returns {number}
 * @throws {OutOfRange} a time or an energy not above zero
 */
export function arrheniusMin(point, energyJMol, temperatureC) {
  requirePositive('minutes', point.minutes);
  requirePositive('energy_j_mol', energyJMol);
  const inverse = 1 / kelvin(temperatureC) - 1 / kelvin(point.temperature_c);
  return point.minutes * Math.exp((energyJMol / GAS_CONSTANT_J_MOL_K) * inverse);
}

/**
 * A time at another temperature, by halving for each 10 degrees C more, minutes.
 * @param {TimePoint} point
 * @param {number} temperatureC
 * @returns {number}
 * @throws {OutOfRange} a time not above zero
 */
export function halvedMin(point, temperatureC) {
  requirePositive('minutes', point.minutes);
  return point.minutes * 2.0 ** (-(temperatureC - point.temperature_c) / HALVING_STEP_K);
}

/**
 * A time of the sheet brought to a temperature, in either direction, minutes.
 * @param {readonly TimePoint[]} points of the sheet, one or more, each at its own temperature
 * @param {number} temperatureC
 * @returns {number}
 * @throws {OutOfRange} no point, two at one temperature, or longer when warmer
 */
export function timeMin(points, temperatureC) {
  if (points.length === 0) throw new OutOfRange('points', 0, '1 or more');
  const ordered = [...points].sort((one, other) => one.temperature_c - other.temperature_c);
  if (ordered.length === 1) return halvedMin(ordered[0], temperatureC);
  const inner = ordered.slice(1, -1).findIndex((point) => temperatureC <= point.temperature_c);
  const above = inner < 0 ? ordered.length - 1 : inner + 1;
  const [low, high] = [ordered[above - 1], ordered[above]];
  const energy = activationEnergyJMol(low, high);
  if (energy <= 0) {
    throw new OutOfRange('minutes', high.minutes, `below ${low.minutes}, the time when colder`);
  }
  return arrheniusMin(low, energy, temperatureC);
}

/**
 * A time that closes something: shorter when warmer, never longer than the sheet says.
 * @param {readonly TimePoint[]} points
 * @param {number} temperatureC
 * @returns {number} whole minutes, rounded down
 * @throws {OutOfRange} no point, or two at one temperature
 */
export function shortenedMin(points, temperatureC) {
  const found = timeMin(points, temperatureC);
  const longest = Math.max(...points.map((point) => point.minutes));
  return Math.floor(Math.min(found, longest) + 1e-9);
}

/**
 * A window of the sheet at another temperature: it opens later and closes earlier, never wider.
 * @param {number} opensMin after the coat ended, at the sheet's temperature
 * @param {number} closesMin likewise
 * @param {number} sheetC
 * @param {number} temperatureC
 * @returns {[number, number]} minutes, unrounded; empty where the first is not below the second
 * @throws {OutOfRange} a time not above zero, or a window that closes before it opens
 */
export function windowMin(opensMin, closesMin, sheetC, temperatureC) {
  requirePositive('opens_min', opensMin);
  if (!(opensMin < closesMin && closesMin < Infinity)) {
    throw new OutOfRange('closes_min', closesMin, `above ${opensMin}`);
  }
  const factor = halvedMin({ minutes: 1.0, temperature_c: sheetC }, temperatureC);
  return [Math.max(opensMin, opensMin * factor), Math.min(closesMin, closesMin * factor)];
}

/**
 * Share of a time that is used up after spells at several temperatures.
 * @param {readonly [number, TimePoint][]} spent minutes, and a point of the temperature they were
 *   spent at
 * @param {readonly TimePoint[]} points
 * @returns {number}
 * @throws {OutOfRange} no point
 */
export function usedShare(spent, points) {
  let share = 0;
  for (const [minutes, at] of spent) share += minutes / timeMin(points, at.temperature_c);
  return share;
}

/**
 * Largest cup of a system in a shop warmer than the sheet; never more than the sheet says.
 * @param {number} sheetG
 * @param {number} sheetC
 * @param {number} temperatureC
 * @returns {number} whole grams, rounded down
 * @throws {OutOfRange} a mass not above zero
 */
export function largestCupG(sheetG, sheetC, temperatureC) {
  requirePositive('sheet_g', sheetG);
  const steps = Math.max(0.0, temperatureC - sheetC) / HALVING_STEP_K;
  return Math.floor(sheetG * 2.0 ** -steps + 1e-9);
}

/** @param {number} temperatureC */
function kelvin(temperatureC) {
  if (!(temperatureC > -ZERO_C_IN_K && temperatureC < Infinity)) {
    throw new OutOfRange('temperature_c', temperatureC, `above ${-ZERO_C_IN_K}`);
  }
  return temperatureC + ZERO_C_IN_K;
}
