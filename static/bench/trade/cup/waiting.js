/**
 * Part A that was weighed and waits for its hardener: how long, and how long uncovered.
 *
 * Dust falls into it and moisture gets to it. After a look and a new reading the time counts anew.
 */
import { secondsBetween } from '../times.js';
import { CupState } from './progress.js';

/** @typedef {import('../../types.js').Caution} Caution */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').Waiting} Waiting */

// Minutes part A may wait uncovered, and in all; common practice, no source.
export const UNCOVERED_MIN = 30;
export const COVERED_MIN = 24 * 60;
export const UNCOVERED_LONG = 'waited_uncovered';
export const COVERED_LONG = 'waited_long';

/**
 * How long the part A of a cup has waited.
 * @param {Cup} cup
 * @param {string} nowUtc time now, RFC 3339
 * @returns {Waiting | null} minutes, unrounded, 0 and more; null where it does not wait
 */
export function waiting(cup, nowUtc) {
  if (cup.state !== CupState.A_WAITING || !cup.a_read_at) return null;
  let uncoveredS = 0.0;
  let since = cup.a_read_at;
  let covered = false;
  for (const { at, on } of cup.covers) {
    // What was laid on it before the last reading came off to read it.
    if (secondsBetween(cup.a_read_at, at) < 0 || on === covered) continue;
    if (on) uncoveredS += Math.max(0, secondsBetween(since, at));
    since = at;
    covered = on;
  }
  if (!covered) uncoveredS += Math.max(0, secondsBetween(since, nowUtc));
  return {
    since_min: Math.max(0, secondsBetween(cup.a_weighed_at, nowUtc)) / 60,
    read_min: Math.max(0, secondsBetween(cup.a_read_at, nowUtc)) / 60,
    uncovered_min: uncoveredS / 60,
    covered,
  };
}

/**
 * Whether part A waited too long: look at it and read it again, or scrap it.
 * @param {Cup} cup
 * @param {string} nowUtc
 * @returns {Caution[]}
 */
export function waitingCautions(cup, nowUtc) {
  const waited = waiting(cup, nowUtc);
  /** @type {Caution[]} */
  const cautions = [];
  if (waited && waited.uncovered_min >= UNCOVERED_MIN) cautions.push(UNCOVERED_LONG);
  if (waited && waited.read_min >= COVERED_MIN) cautions.push(COVERED_LONG);
  return cautions;
}
