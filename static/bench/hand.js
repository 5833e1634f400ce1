/**
 * The can of hardener in the hand: scanned before the cup, it is held against the cup that is scanned
 * next. Kept in the phone's storage, so that it outlives the page; forgotten after a while.
 */
import { canLabelled } from './cups.js';
import { facts, keepFacts } from './log/bench-log.js';

/** A can that was scanned longer ago stands on the bench again; common practice, no source. */
const HELD_MS = 10 * 60 * 1000;

/** @param {string} code  of the can; empty puts it down */
export async function takeInHand(code) {
  await keepFacts({ can_in_hand: code ? { code, at: new Date().toISOString() } : null });
}

/** The can in the hand; null where there is none. */
export async function canInHand() {
  const { can_in_hand: held } = await facts('can_in_hand');
  if (!held || Math.abs(Date.now() - Date.parse(held.at)) > HELD_MS) return null;
  return canLabelled(held.code);
}
