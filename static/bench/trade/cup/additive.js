/**
 * A paste in part A: poured after A and before the hardener, and counted nowhere in the ratio.
 *
 * How much of it goes in follows the part A really poured, never what else is in the cup; and the
 * hardener follows part A alone. Whoever takes the hardener from all that is in the cup pours too
 * much of it by as many per cent as there is paste.
 */
import { scaleReadabilityG } from '../cards.js';
import { STEP_GUARD } from '../constants.js';
import { netOf } from '../weighing.js';
import { CupState } from './progress.js';

/** @typedef {import('../../types.js').Caution} Caution */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').PlannedAdditive} PlannedAdditive */
/** @typedef {import('../../types.js').Pour} Pour */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */

/**
 * States in which no hardener was opened yet.
 * @type {ReadonlySet<string>}
 */
const BEFORE_HARDENER = new Set([CupState.STARTED, CupState.EMPTY_READ, CupState.A_WAITING]);

/**
 * Share of part A that is poured, %: as planned, never above the cap.
 * @param {PlannedAdditive} additive
 * @returns {number}
 */
export function pouredPct(additive) {
  const { share_pct: sharePct, cap_pct: capPct } = additive;
  return capPct === null ? sharePct : Math.min(sharePct, capPct);
}

/**
 * Additives in a cup in the order they went in, grams, and their shares of part A, 1; a share is
 * null where no part A is in it.
 * @param {Cup} cup
 * @returns {{code: string, net_g: number, share: number | null}[]}
 */
export function added(cup) {
  const others = cup.pours.map((pour) => pour.component).filter((one) => one !== 'a' && one !== 'b');
  return [...new Set(others)].map((code) => {
    const netG = netOf(cup.pours, code);
    return { code, net_g: netG, share: cup.part_a_g > 0 ? netG / cup.part_a_g : null };
  });
}

/**
 * Mass of everything that is neither part A nor part B, grams.
 * @param {readonly Pour[]} pours
 * @returns {number}
 */
export function additivesG(pours) {
  let totalG = 0.0;
  for (const pour of pours) {
    if (pour.component !== 'a' && pour.component !== 'b') totalG += pour.net_g;
  }
  return totalG;
}

/**
 * Whether the planned paste was not read yet, or its pour was broken off by a restart.
 *
 * A reading that equals the one before says that none went in; that is an answer, too.
 * @param {Cup} cup
 * @param {PlannedAdditive | null} additive
 * @returns {additive is PlannedAdditive}
 */
export function isMissing(cup, additive) {
  if (additive === null) return false;
  const last = cup.pours.filter((pour) => pour.component === additive.code).at(-1);
  return last === undefined || last.unfinished;
}

/**
 * Paste still to pour for the part A in the cup, grams, unrounded, 0 and more.
 * @param {Cup} cup
 * @param {PlannedAdditive} additive
 * @returns {number}
 */
export function leftG(cup, additive) {
  const wantedG = (cup.part_a_g * pouredPct(additive)) / 100;
  return Math.max(0.0, wantedG - netOf(cup.pours, additive.code));
}

/**
 * Paste that may still go in before the display shows more than the cap, grams.
 *
 * The stop is rounded to a step of the display, so half a step above the cap is still the cap.
 * @param {Cup} cup
 * @param {PlannedAdditive} additive
 * @param {ScaleCard} scale
 * @returns {number}
 */
export function mostLeftG(cup, additive, scale) {
  const capPct = additive.cap_pct === null ? additive.share_pct : additive.cap_pct;
  const thereG = netOf(cup.pours, additive.code);
  return (cup.part_a_g * capPct) / 100 + scaleReadabilityG(scale) / 2 - thereG;
}

/**
 * What is wrong with the paste: planned or poured above its cap, or too late to pour.
 * @param {Cup} cup
 * @param {PlannedAdditive | null} additive
 * @param {ScaleCard} scale
 * @returns {Caution[]}
 */
export function pasteCautions(cup, additive, scale) {
  if (additive === null) return [];
  const hasCap = additive.cap_pct !== null && cup.part_a_g > 0;
  /** @type {[Caution, boolean][]} */
  const cautions = [
    ['paste_capped', pouredPct(additive) < additive.share_pct],
    ['paste_over_cap', hasCap && mostLeftG(cup, additive, scale) < -STEP_GUARD],
    ['paste_too_late', isMissing(cup, additive) && !BEFORE_HARDENER.has(cup.state)],
  ];
  return cautions.filter(([, raised]) => raised).map(([name]) => name);
}
