/**
 * What a scale can tell.
 *
 * A display rounds to its readability d, so a reading has the variance d^2/12 (rectangular), plus
 * the repeatability s^2 where it is on record. A pour is the difference of two readings; the
 * reading between two pours belongs to both, which makes their masses depend on each other. For
 * any sequence of pours the relative uncertainty of B/A is
 *
 *     u_rel^2 = sum over readings j of u_j^2 * (b_j/mB - a_j/mA)^2
 *
 * where a_j (b_j) is +1 if reading j ends a pour of A (B), -1 if it starts one. Readings between
 * two pours of the same part cancel. The verdict keeps a guard band of the expanded uncertainty
 * (k = 2) inside and outside the tolerance: proven in, in, out, proven out.
 */
import { COVERAGE_FACTOR, LIMIT_GUARD } from './constants.js';
import { OutOfRange, requirePositive } from './errors.js';
import { ratioError } from './ratio.js';

/** @typedef {import('../types.js').Pour} Pour */
/** @typedef {import('../types.js').VerdictWord} VerdictWord */

/** Inside or outside the tolerance, proven by this scale or not. */
export const Verdict = Object.freeze({
  IN: /** @type {const} */ ('in'),
  IN_UNPROVEN: /** @type {const} */ ('in_unproven'),
  OUT_UNPROVEN: /** @type {const} */ ('out_unproven'),
  OUT: /** @type {const} */ ('out'),
});

/**
 * Variance of one reading.
 * @param {number} readabilityG display step d, grams, > 0
 * @param {number | null} [repeatabilityG] standard deviation of repeated readings, grams, or null
 *   if not on record; then the display step alone counts
 * @returns {number} d^2/12 + s^2, square grams
 * @throws {OutOfRange} d is not above zero or s is negative
 */
export function readingVarianceG2(readabilityG, repeatabilityG = null) {
  requirePositive('readability_g', readabilityG);
  const sG = repeatabilityG || 0.0;
  if (sG < 0) throw new OutOfRange('repeatability_g', sG, '0 or more');
  return (readabilityG * readabilityG) / 12 + sG * sG;
}

/**
 * Mass of one component over all pours, grams.
 * @param {readonly Pour[]} pours
 * @param {string} component
 * @returns {number}
 */
export function netOf(pours, component) {
  let totalG = 0.0;
  for (const pour of pours) {
    if (pour.component === component) totalG += pour.net_g;
  }
  return totalG;
}

/**
 * Relative standard uncertainty of B/A from the readings of one cup.
 * @param {readonly Pour[]} pours every pour of the cup in order; components other than a and b may
 *   lie between
 * @param {number} varianceG2 variance of one reading, square grams
 * @returns {number} u(B/A)/(B/A), 1, unrounded
 * @throws {OutOfRange} one of the two parts has no mass
 */
export function ratioURel(pours, varianceG2) {
  const partAG = netOf(pours, 'a');
  const partBG = netOf(pours, 'b');
  requirePositive('part_a_g', partAG);
  requirePositive('part_b_g', partBG);

  const share = (/** @type {Pour} */ pour) => {
    if (pour.component === 'a') return -1 / partAG;
    return pour.component === 'b' ? 1 / partBG : 0.0;
  };

  let total = 0.0;
  pours.forEach((pour, index) => {
    const here = share(pour);
    if (index === 0 || pour.opens) total += varianceG2 * here * here;
    const next = pours[index + 1];
    const end = next !== undefined && !next.opens ? here - share(next) : here;
    total += varianceG2 * end * end;
  });
  return Math.sqrt(total);
}

/**
 * Expanded uncertainty (k = 2) of the ratio error of one cup.
 * @param {readonly Pour[]} pours every pour of the cup in order
 * @param {number} ratio wanted parts B per part A, g/g, > 0
 * @param {number} varianceG2 variance of one reading, square grams
 * @returns {number} U of the ratio error, 1, unrounded
 * @throws {OutOfRange} one of the two parts has no mass
 */
export function expandedUncertainty(pours, ratio, varianceG2) {
  const error = ratioError(netOf(pours, 'a'), netOf(pours, 'b'), ratio);
  return COVERAGE_FACTOR * (1 + error) * ratioURel(pours, varianceG2);
}

/**
 * Judge a ratio error against its tolerance with the guard band of the uncertainty.
 * @param {number} error ratio error, 1
 * @param {number} tolerance allowed error either way, 1, > 0
 * @param {number} expanded expanded uncertainty of the error, 1, >= 0
 * @returns {VerdictWord} figures at a limit count as inside it
 */
export function verdict(error, tolerance, expanded) {
  const size = Math.abs(error);
  if (size <= tolerance - expanded + LIMIT_GUARD) return Verdict.IN;
  if (size <= tolerance + LIMIT_GUARD) return Verdict.IN_UNPROVEN;
  if (size <= tolerance + expanded + LIMIT_GUARD) return Verdict.OUT_UNPROVEN;
  return Verdict.OUT;
}

/**
 * Smallest cup whose expanded uncertainty stays within a share of the tolerance.
 * @param {number} ratio parts B per part A, g/g, > 0
 * @param {number} tolerance allowed ratio error either way, 1, > 0
 * @param {number} varianceG2 variance of one reading, square grams
 * @param {number} share part of the tolerance the scale may use up; 1 refuses, 1/3 warns
 * @param {boolean} [retared] true if the display is set to zero between the pours
 * @returns {number} total mass of the cup, grams, unrounded
 * @throws {OutOfRange} a figure is not above zero
 */
export function smallestCupG(ratio, tolerance, varianceG2, share, retared = false) {
  requirePositive('ratio', ratio);
  requirePositive('tolerance', tolerance);
  requirePositive('share', share);
  const form = retared ? 1 + ratio * ratio : 1 + ratio + ratio * ratio;
  const partBG = (COVERAGE_FACTOR * Math.sqrt(2 * varianceG2 * form)) / (share * tolerance);
  return partBG * (1 + 1 / ratio);
}
