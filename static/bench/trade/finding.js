/**
 * Finding the cup a smeared label stands on: by the letters that are left, and by weighing it.
 *
 * Candidates are proposed and never chosen: two cups may differ by less than a scale shows.
 */
import { STEP_GUARD } from './constants.js';

/** @typedef {import('../types.js').Candidate} Candidate */
/** @typedef {import('../types.js').OpenCup} OpenCup */

/** Stands for a letter that cannot be read. */
export const GONE = '?';
// Letters that are taken for each other on a smeared label; common practice, no source.
const LOOK_ALIKES = ['5S', '2Z', '8B'];
// What a cup may differ from its record by: drops, a wiped rim; common practice, no source.
const SAME_CUP_G = 1.0;
const RANKS = { fits: 0, unknown: 1, off: 2 };

/**
 * Open cups a label may stand on, those that fit best first.
 * @param {readonly OpenCup[]} cups
 * @param {string} letters what can be read, one character a place, `?` for what cannot; letters
 *   missing at the end cannot be read
 * @param {number | null} grossG what the cup weighs, null if it was not weighed
 * @param {number} stepG display step of the scale
 * @returns {Candidate[]} cups whose letters fit; where no letter is left, those whose weight does not
 *   speak against it
 */
export function candidates(cups, letters, grossG, stepG) {
  const left = letters.toUpperCase();
  const anyLeft = [...left].some((letter) => letter !== GONE);
  /** @type {Candidate[]} */
  const found = [];
  for (const { code, gross_g: recordedG } of cups) {
    const exact = fits(left, code, false);
    if (!exact && !fits(left, code, true)) continue;
    const weight = weightOf(recordedG, grossG, stepG);
    if (weight === 'off' && !anyLeft) continue;
    found.push({ code, exact, weight });
  }
  return found.sort(inOrder);
}

/**
 * @param {Candidate} one
 * @param {Candidate} other
 */
function inOrder(one, other) {
  const byRank = RANKS[one.weight] - RANKS[other.weight] || Number(other.exact) - Number(one.exact);
  return byRank || (one.code < other.code ? -1 : 1);
}

/**
 * @param {string} letters
 * @param {string} code
 * @param {boolean} lookAlikes
 */
function fits(letters, code, lookAlikes) {
  if (letters.length > code.length) return false;
  return [...letters].every((letter, place) => {
    const there = code[place];
    if (letter === GONE || letter === there) return true;
    return lookAlikes && LOOK_ALIKES.some((pair) => pair.includes(letter) && pair.includes(there));
  });
}

/**
 * @param {number | null} recordedG
 * @param {number | null} grossG
 * @param {number} stepG
 * @returns {Candidate['weight']}
 */
function weightOf(recordedG, grossG, stepG) {
  if (recordedG === null || grossG === null) return 'unknown';
  return Math.abs(recordedG - grossG) <= SAME_CUP_G + stepG + STEP_GUARD ? 'fits' : 'off';
}
