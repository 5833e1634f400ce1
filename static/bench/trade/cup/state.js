/** Whether a cup may be used. */
import { Verdict } from '../weighing.js';
import { CupState } from './progress.js';

/** @typedef {import('../../types.js').Cup} Cup */

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
