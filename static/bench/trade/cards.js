/**
 * Cards: what the shop knows about a system, a scale, a job. They come as plain objects; what the
 * server works out of a card is worked out here by functions of it.
 */
import { OutOfRange, requirePositive } from './errors.js';
import { decimalsOf, isWireNumber } from './numbers.js';
import { effectiveRatio, massRatio, requireTolerance } from './ratio.js';

/** @typedef {import('../types.js').SystemCard} SystemCard */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../types.js').Job} Job */

/**
 * Refuse a system card with figures no cup could be weighed with.
 * @param {SystemCard} card
 * @returns {SystemCard} the same card
 * @throws {OutOfRange} code, ratio, tolerance, largest cup or filler are out of range
 */
export function requireSystemCard(card) {
  if (!card.code) throw new OutOfRange('code', card.code, 'a name for the system');
  requirePositive('part_b_pbw', card.part_b_pbw);
  requirePositive('largest_cup_g', card.largest_cup_g);
  requireTolerance(systemTolerance(card));
  effectiveRatio(1.0, card.filler_fraction_a);
  return card;
}

/**
 * Name with revision, as it stands in the log: `RES-L+HRD-S@3`.
 * @param {SystemCard} card
 * @returns {string}
 */
export function systemName(card) {
  return `${card.code}@${card.revision}`;
}

/**
 * Parts B per part A as weighed (filler counted), g/g.
 * @param {SystemCard} card
 * @returns {number}
 */
export function systemRatio(card) {
  return effectiveRatio(massRatio(card.part_b_pbw), card.filler_fraction_a);
}

/**
 * Allowed ratio error either way, 1.
 * @param {SystemCard} card
 * @returns {number}
 */
export function systemTolerance(card) {
  return card.tolerance_pct / 100;
}

/**
 * Refuse a scale whose step or capacity is not above zero.
 * @param {ScaleCard} card
 * @returns {ScaleCard} the same card
 * @throws {OutOfRange} readability or capacity are not numbers above zero
 */
export function requireScaleCard(card) {
  // Written as the log writes figures: its decimals are counted, and the server reads it too.
  if (!isWireNumber(card.readability)) {
    throw new OutOfRange('readability', card.readability, 'a number above 0, such as 0.1');
  }
  requirePositive('readability', scaleReadabilityG(card));
  requirePositive('capacity_g', card.capacity_g);
  return card;
}

/**
 * Code with revision, as it stands in the log: `S1@1`.
 * @param {ScaleCard} card
 * @returns {string}
 */
export function scaleName(card) {
  return `${card.code}@${card.revision}`;
}

/**
 * Display step, grams.
 * @param {ScaleCard} card
 * @returns {number}
 */
export function scaleReadabilityG(card) {
  return Number(card.readability);
}

/**
 * Digits the display shows after its point.
 * @param {ScaleCard} card
 * @returns {number}
 */
export function scaleDecimals(card) {
  return decimalsOf(card.readability);
}

/**
 * Job with revision, as it stands in the log: `14@2`.
 * @param {Job} job
 * @returns {string}
 */
export function jobName(job) {
  return `${job.code}@${job.revision}`;
}
