/**
 * Is this the can the cup needs, and may it be used today?
 *
 * A can of another system stops the pour. An expired or quarantined lot stops it too, unless a
 * reason is written.
 */

import { hardenerTargetG, ratioError } from './ratio.js';

/** @typedef {import('../types.js').CanProblemWord} CanProblemWord */
/** @typedef {import('../types.js').Container} Container */
/** @typedef {import('../types.js').Lot} Lot */
/** @typedef {import('../types.js').SystemCard} SystemCard */

/** Why a container stops the pour. */
export const CanProblem = Object.freeze({
  WRONG_MATERIAL: /** @type {const} */ ('wrong_material'),
  LOT_UNKNOWN: /** @type {const} */ ('lot_unknown'),
  EXPIRED: /** @type {const} */ ('expired'),
  QUARANTINED: /** @type {const} */ ('quarantined'),
});

/**
 * Problems a written reason may pass; the wrong material never.
 * @type {ReadonlySet<CanProblemWord>}
 */
export const REASON_MAY_PASS = new Set([
  CanProblem.LOT_UNKNOWN,
  CanProblem.EXPIRED,
  CanProblem.QUARANTINED,
]);

/**
 * Material a component of a cup is made of.
 * @param {string} component "a", "b" or the code of a paste
 * @param {SystemCard} system card of the cup
 * @returns {string} code of the material; a paste is its own
 */
export function materialWanted(component, system) {
  if (component === 'a') return system.resin;
  return component === 'b' ? system.hardener : component;
}

/**
 * Check one container against the cup it is held over.
 * @param {string} component "a", "b" or the code of a paste
 * @param {SystemCard} system card of the cup
 * @param {Container} container the can in the hand
 * @param {Lot | null} lot its lot, null where the shop has no record of it
 * @param {string} today local day, ISO 8601 (2026-03-07)
 * @returns {CanProblemWord | null} the first problem in order of danger, or null
 */
export function canProblem(component, system, container, lot, today) {
  const wanted = materialWanted(component, system);
  if (container.material !== wanted) return CanProblem.WRONG_MATERIAL;
  if (lot === null || lot.material !== wanted) return CanProblem.LOT_UNKNOWN;
  if (lot.quarantined) return CanProblem.QUARANTINED;
  if (lot.expires_on && lot.expires_on < today) return CanProblem.EXPIRED;
  return null;
}

/**
 * Ratio errors of a cup into which the wrong hardener goes.
 * @param {number} partAG part A in the cup, grams, > 0
 * @param {number} ratio parts B per part A of the cup's own system, g/g, > 0
 * @param {number} otherRatio the same of the system the wrong hardener belongs to
 * @returns {{other_by_this: number, other_by_other: number}} the other hardener poured in the amount
 *   this cup needs of its own; the amount the other would need, judged by this cup's ratio
 * @throws {OutOfRange} a mass or ratio is not above zero
 */
export function swapped(partAG, ratio, otherRatio) {
  return {
    other_by_this: ratioError(partAG, hardenerTargetG(partAG, ratio), otherRatio),
    other_by_other: ratioError(partAG, hardenerTargetG(partAG, otherRatio), ratio),
  };
}
