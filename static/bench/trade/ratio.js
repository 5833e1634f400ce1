/**
 * The mix ratio.
 *
 * `ratio` is always parts B per part A **by mass**, g/g (100:30 is 0.3). The ratio error is
 * `(B/A)/ratio - 1`: above zero too much hardener, below zero too little. The hardener follows the
 * resin that was really poured, and a wrong cup is brought right by adding, never by taking out.
 *
 * Every expression keeps the order of its twin on the server, so both get the same last bit.
 */
import { OutOfRange, requirePositive } from './errors.js';

/** @typedef {import('../types.js').Targets} Targets */
/** @typedef {import('../types.js').TopUp} TopUp */

/**
 * Ratio of a system card.
 * @param {number} partBPbw parts B per 100 parts A by mass, > 0
 * @returns {number} parts B per part A, g/g
 * @throws {OutOfRange} partBPbw is not above zero
 */
export function massRatio(partBPbw) {
  requirePositive('part_b_pbw', partBPbw);
  return partBPbw / 100;
}

/**
 * Ratio that counts when part A already carries filler.
 * @param {number} ratio parts B per part A of the clean resin, g/g, > 0
 * @param {number} fillerFractionA filler mass per mass of filled part A, 0 <= x < 1
 * @returns {number} parts B per part of filled A, g/g, unrounded
 * @throws {OutOfRange} the fraction is outside 0 to 1
 */
export function effectiveRatio(ratio, fillerFractionA) {
  requirePositive('ratio', ratio);
  if (!(fillerFractionA >= 0 && fillerFractionA < 1)) {
    throw new OutOfRange('filler_fraction_a', fillerFractionA, '0 to below 1');
  }
  return ratio * (1 - fillerFractionA);
}

/**
 * Split a planned total into its two parts.
 * @param {number} totalG mass of the whole cup, grams, > 0
 * @param {number} ratio parts B per part A, g/g, > 0
 * @returns {Targets} the two masses, unrounded
 * @throws {OutOfRange} a figure is not above zero
 */
export function targets(totalG, ratio) {
  requirePositive('total_g', totalG);
  requirePositive('ratio', ratio);
  return {
    part_a_g: totalG / (1 + ratio),
    part_b_g: (totalG * ratio) / (1 + ratio),
    total_g: totalG,
  };
}

/**
 * Hardener that matches an already poured mass of resin.
 * @param {number} partAG net resin mass, grams, > 0
 * @param {number} ratio parts B per part A, g/g, > 0
 * @returns {number} target mass, grams, unrounded
 * @throws {OutOfRange} a figure is not above zero
 */
export function hardenerTargetG(partAG, ratio) {
  requirePositive('part_a_g', partAG);
  requirePositive('ratio', ratio);
  return ratio * partAG;
}

/**
 * Least and most hardener inside the tolerance.
 * @param {number} partAG net resin mass, grams, > 0
 * @param {number} ratio parts B per part A, g/g, > 0
 * @param {number} tolerance allowed ratio error either way, 1, > 0 and < 1
 * @returns {[number, number]} the two masses, grams, unrounded
 * @throws {OutOfRange} a figure is out of its range
 */
export function hardenerWindowG(partAG, ratio, tolerance) {
  requireTolerance(tolerance);
  const targetG = hardenerTargetG(partAG, ratio);
  return [targetG * (1 - tolerance), targetG * (1 + tolerance)];
}

/**
 * Refuse a tolerance outside 0 to 1.
 * @param {number} tolerance
 * @returns {void}
 * @throws {OutOfRange} it is zero, negative, one or more, or not a number
 */
export function requireTolerance(tolerance) {
  if (!(tolerance > 0 && tolerance < 1)) {
    throw new OutOfRange('tolerance', tolerance, 'above 0 and below 1 (100 %)');
  }
}

/**
 * How far the poured ratio lies from the wanted one.
 * @param {number} partAG net resin mass, grams, > 0
 * @param {number} partBG net hardener mass, grams, >= 0
 * @param {number} ratio parts B per part A, g/g, > 0
 * @returns {number} relative error, 1; above zero hardener-rich, below zero hardener-lean
 * @throws {OutOfRange} a figure is out of its range
 */
export function ratioError(partAG, partBG, ratio) {
  requirePositive('part_a_g', partAG);
  requirePositive('ratio', ratio);
  if (!(partBG >= 0 && partBG < Infinity)) throw new OutOfRange('part_b_g', partBG, '0 or more');
  return partBG / partAG / ratio - 1;
}

/**
 * The one addition that brings a cup to its ratio.
 * @param {number} partAG net resin mass, grams, > 0
 * @param {number} partBG net hardener mass, grams, > 0
 * @param {number} ratio parts B per part A, g/g, > 0
 * @returns {TopUp} which part, how much of it and the total afterwards, grams, unrounded
 * @throws {OutOfRange} a figure is not above zero
 */
export function topUp(partAG, partBG, ratio) {
  requirePositive('part_b_g', partBG);
  const missingBG = hardenerTargetG(partAG, ratio) - partBG;
  if (missingBG >= 0) {
    return { component: 'b', add_g: missingBG, total_g: partAG + partBG + missingBG };
  }
  const missingAG = partBG / ratio - partAG;
  return { component: 'a', add_g: missingAG, total_g: partAG + partBG + missingAG };
}

/**
 * Resin above which the matching hardener would make the cup too large.
 * @param {number} largestCupG largest mix in one cup, grams, > 0
 * @param {number} ratio parts B per part A, g/g, > 0
 * @returns {number} resin mass, grams, unrounded
 * @throws {OutOfRange} a figure is not above zero
 */
export function largestPartAG(largestCupG, ratio) {
  return targets(largestCupG, ratio).part_a_g;
}
