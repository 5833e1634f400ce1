/**
 * The window on the display while a part is poured.
 *
 * Inside the tolerance lies the window this scale can prove: the displays at which the ratio error
 * and its expanded uncertainty together stay within the tolerance.
 */
import { scaleReadabilityG, systemRatio, systemTolerance } from '../cards.js';
import { ratioError } from '../ratio.js';
import { expandedUncertainty, netOf, readingVarianceG2 } from '../weighing.js';
import { holds } from './pours.js';

/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../../types.js').SystemCard} SystemCard */
/** @typedef {import('../../types.js').Window} Window */

// Enough halvings to pin a limit of a few hundred grams to the last bit of a double.
const HALVINGS = 60;

/**
 * Window for pouring one part into what is already in the cup.
 * @param {Cup} cup the folded cup; it holds at least the other part
 * @param {string} component the part to be poured, "a" or "b"
 * @param {SystemCard} system card of the cup: ratio and tolerance
 * @param {ScaleCard} scale card of the scale: readability and repeatability
 * @returns {Window} displays between which the cup ends in tolerance, and provably so
 */
export function window(cup, component, system, scale) {
  const displayG = cup.display_g || 0.0;
  const { targetG, lowG, highG, thereG } = masses(cup, component, system);
  const stopG = displayG + targetG - thereG;
  const acceptLowG = displayG + lowG - thereG;
  const acceptHighG = displayG + highG - thereG;
  const proves = proofAt(cup, component, system, scale);
  const isProvable = proves(stopG);
  return {
    accept_low_g: acceptLowG,
    accept_high_g: acceptHighG,
    proven_low_g: isProvable ? edge(proves, stopG, acceptLowG) : null,
    proven_high_g: isProvable ? edge(proves, stopG, acceptHighG) : null,
  };
}

/**
 * Target and limits of the part in the cup, and what of it is there, grams.
 * @param {Cup} cup
 * @param {string} component
 * @param {SystemCard} system
 * @returns {{ targetG: number, lowG: number, highG: number, thereG: number }}
 */
function masses(cup, component, system) {
  const ratio = systemRatio(system);
  const tolerance = systemTolerance(system);
  if (component === 'b') {
    const targetG = ratio * cup.part_a_g;
    const lowG = targetG * (1 - tolerance);
    return { targetG, lowG, highG: targetG * (1 + tolerance), thereG: cup.part_b_g };
  }
  const targetG = cup.part_b_g / ratio;
  const lowG = targetG / (1 + tolerance);
  return { targetG, lowG, highG: targetG / (1 - tolerance), thereG: cup.part_a_g };
}

/**
 * The question whether a display would be proven in tolerance.
 * @param {Cup} cup
 * @param {string} component
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @returns {(atG: number) => boolean}
 */
function proofAt(cup, component, system, scale) {
  const ratio = systemRatio(system);
  const tolerance = systemTolerance(system);
  const displayG = cup.display_g || 0.0;
  const varianceG2 = readingVarianceG2(scaleReadabilityG(scale), scale.repeatability_g);
  return (atG) => {
    const next = { component, net_g: atG - displayG, opens: cup.opens, unfinished: false };
    const after = [...cup.pours, next];
    if (!holds(after, 'a') || !holds(after, 'b')) return false;
    const error = ratioError(netOf(after, 'a'), netOf(after, 'b'), ratio);
    return Math.abs(error) + expandedUncertainty(after, ratio, varianceG2) <= tolerance;
  };
}

/**
 * Last display on the way from the stop to a limit that is still proven, by bisection.
 * @param {(atG: number) => boolean} proves
 * @param {number} stopG
 * @param {number} limitG
 * @returns {number}
 */
function edge(proves, stopG, limitG) {
  let insideG = stopG;
  let outsideG = limitG;
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middleG = (insideG + outsideG) / 2;
    if (proves(middleG)) insideG = middleG;
    else outsideG = middleG;
  }
  return insideG;
}
