/** The state of a cup, folded from its rows. */
import { Verdict } from '../weighing.js';

/** @typedef {import('../../types.js').Cup} Cup */

/** Where a cup stands on its way. */
export const CupState = Object.freeze({
  STARTED: /** @type {const} */ ('started'),
  EMPTY_READ: /** @type {const} */ ('empty_read'),
  A_WAITING: /** @type {const} */ ('a_waiting'),
  B_OPEN: /** @type {const} */ ('b_open'),
  JUDGED: /** @type {const} */ ('judged'),
  MIXING: /** @type {const} */ ('mixing'),
  MIXED: /** @type {const} */ ('mixed'),
  IN_USE: /** @type {const} */ ('in_use'),
  CLOSED: /** @type {const} */ ('closed'),
});

/**
 * Whether the cup may go into a part: mixed, and in tolerance or let pass in writing.
 *
 * What is let pass is a verdict: where there is none, no reason makes the cup usable.
 * @param {Cup} cup
 * @returns {boolean}
 */
export function cupUsable(cup) {
  const mixed = cup.state === CupState.MIXED || cup.state === CupState.IN_USE;
  if (!mixed || cup.unknown || cup.verdict === null) return false;
  return cup.verdict === Verdict.IN || cup.verdict === Verdict.IN_UNPROVEN || cup.deviation !== '';
}
