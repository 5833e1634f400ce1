/** What the pours of a cup say: which part is there, which pour is still going on. */
import { netOf } from '../weighing.js';

/** @typedef {import('../../types.js').Pour} Pour */

/**
 * Whether a component is one of the two parts whose masses make the ratio.
 * @param {string} component
 * @returns {component is 'a' | 'b'}
 */
function isPart(component) {
  return component === 'a' || component === 'b';
}

/**
 * Part of the pour that is still going on after a restart; empty if none is.
 * @param {readonly Pour[]} pours
 * @returns {'' | 'a' | 'b'}
 */
export function unfinishedPart(pours) {
  const last = pours[pours.length - 1];
  return last?.unfinished && isPart(last.component) ? last.component : '';
}

/**
 * The pours before the one that is still going on, however often it was interrupted.
 * @param {readonly Pour[]} pours
 * @returns {readonly Pour[]}
 */
export function finished(pours) {
  const part = unfinishedPart(pours);
  let end = pours.length;
  while (part && pours[end - 1]?.unfinished && pours[end - 1]?.component === part) end -= 1;
  return pours.slice(0, end);
}

/**
 * Whether there is anything of a part: a reading equal to the one before poured nothing.
 * @param {readonly Pour[]} pours
 * @param {'a' | 'b'} part
 * @returns {boolean}
 */
export function holds(pours, part) {
  return netOf(pours, part) > 0;
}

/**
 * Additions after the cup could first be judged; one that was interrupted counts once.
 * @param {readonly Pour[]} pours
 * @returns {number}
 */
export function correctionsOf(pours) {
  let count = 0;
  let couldBeJudged = false;
  let goingOn = '';
  const heldG = { a: 0.0, b: 0.0 };
  for (const pour of pours) {
    const { component } = pour;
    if (couldBeJudged && isPart(component) && component !== goingOn) count += 1;
    if (isPart(component)) heldG[component] += pour.net_g;
    goingOn = unfinishedPart([pour]);
    couldBeJudged ||= !goingOn && Math.min(heldG.a, heldG.b) > 0;
  }
  return count;
}
