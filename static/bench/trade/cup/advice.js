/** The one next thing to do with a cup. */
import { scaleReadabilityG, systemRatio, systemTolerance } from '../cards.js';
import { STEP_GUARD, WARN_SHARE } from '../constants.js';
import { hardenerTargetG, largestPartAG, targets, topUp } from '../ratio.js';
import { readingVarianceG2, smallestCupG, Verdict } from '../weighing.js';
import { Action, advice } from './actions.js';
import { additivesG, isMissing, leftG, mostLeftG, pasteCautions, pouredPct } from './additive.js';
import { correctingEnded, largestG } from './limits.js';
import { mixCautions } from './mixing.js';
import { potCautions } from './pot-clock.js';
import { unfinishedPart } from './pours.js';
import { CupState } from './progress.js';
import { waitingCautions } from './waiting.js';
import { window } from './window.js';

/** @typedef {import('../../types.js').ActionWord} ActionWord */
/** @typedef {import('../../types.js').Advice} Advice */
/** @typedef {import('../../types.js').Caution} Caution */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').PlannedAdditive} PlannedAdditive */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../../types.js').SystemCard} SystemCard */
/**
 * A cup on its scale, the most it may hold, and the paste its plan asks for.
 * @typedef {{ cup: Cup, system: SystemCard, scale: ScaleCard, mostG: number,
 *   additive: PlannedAdditive | null }} Bench
 */

export { Action, largestG };

/**
 * Say what comes next.
 * @param {Cup} cup the folded cup
 * @param {SystemCard} system its card
 * @param {ScaleCard} scale the scale it stands on
 * @param {string} nowUtc time now, RFC 3339
 * @param {number | null} [temperatureC] warmest that counts for the cup, degrees Celsius, null
 *   if not known
 * @param {number | null} [cupVolumeMl] volume of the empty cup, null if not known
 * @param {PlannedAdditive | null} [additive] paste the plan asks for, null if none
 * @returns {Advice} exactly one instruction, whatever the rows of the cup say
 */
export function advise(
  cup, system, scale, nowUtc, temperatureC = null, cupVolumeMl = null, additive = null,
) {
  const mostG = largestG(system, cupVolumeMl, temperatureC);
  const bench = { cup, system, scale, mostG, additive };
  if (cup.state === CupState.CLOSED) return advice(Action.NONE, { reason: cup.ending });
  if (cup.state === CupState.SETTING) {
    return advice(Action.WATCH, { reason: cup.ending, cautions: ['do_not_leave'] });
  }
  if (cup.state === CupState.UNIDENTIFIED) return advice(Action.SCRAP, { reason: 'unidentified' });
  if (cup.unknown) return advice(Action.SCRAP, { reason: cup.unknown });
  switch (cup.state) {
    case CupState.STARTED:
    case CupState.EMPTY_READ:
      return firstPour(bench);
    case CupState.A_WAITING:
      if (isMissing(cup, additive)) return paste(bench, additive);
      return pour(bench, Action.OPEN_HARDENER, 'b', ['eyes_covered', ...waitingCautions(cup, nowUtc)]);
    case CupState.B_OPEN:
      return missingPart(bench);
    default:
      break;
  }
  const holdsBoth = cup.part_a_g > 0 && cup.part_b_g > 0;
  if (!holdsBoth && !cup.share_of) return advice(Action.SCRAP, { reason: 'part_missing' });
  const told = judged(bench, nowUtc, temperatureC);
  const late = potCautions(cup, system, nowUtc, temperatureC);
  return { ...told, cautions: [...told.cautions, ...late] };
}

/**
 * Part A as planned; after a restart what of it is still to go.
 * @param {Bench} bench
 * @returns {Advice}
 */
function firstPour(bench) {
  const { cup, system, scale, mostG } = bench;
  const plan = planOf(bench);
  if (plan.action === Action.OTHER_SCALE || cup.display_g === null) return plan;
  const ratio = systemRatio(system);
  const thereG = cup.part_a_g;
  const limitG = largestPartAG(mostG, ratio + pasteRatio(bench));
  const missingG =
    plan.total_g === null ? null : Math.max(0.0, targets(plan.total_g, ratio).part_a_g - thereG);
  return {
    ...plan,
    action: Action.POUR,
    component: 'a',
    add_g: missingG,
    display_stop_g: missingG === null ? null : cup.display_g + missingG,
    display_limit_g: Math.min(cup.display_g + limitG - thereG, scale.capacity_g),
  };
}

/**
 * Planned paste per part A, g/g.
 * @param {Bench} bench
 * @returns {number}
 */
function pasteRatio({ additive }) {
  return additive === null ? 0.0 : pouredPct(additive) / 100;
}

/**
 * The planned total, judged for this scale: read the empty cup, or take another scale. With no
 * total planned there is nothing to judge: the scale names its smallest cup.
 * @param {Bench} bench
 * @returns {Advice}
 */
function planOf(bench) {
  const { cup, system, scale, mostG, additive } = bench;
  const plannedG = cup.planned_total_g;
  const ratio = systemRatio(system);
  const tolerance = systemTolerance(system);
  const varianceG2 = readingVarianceG2(scaleReadabilityG(scale), scale.repeatability_g);
  const refuseG = smallestCupG(ratio, tolerance, varianceG2, 1);
  const warnG = smallestCupG(ratio, tolerance, varianceG2, WARN_SHARE);
  if (plannedG !== null && plannedG < refuseG - STEP_GUARD) {
    return advice(Action.OTHER_SCALE, { smallest_cup_g: refuseG, reason: 'scale_too_coarse' });
  }
  const emptyG = (cup.display_g ?? 0.0) - cup.part_a_g;
  const pasteG = ((plannedG ?? 0.0) / (1 + ratio)) * pasteRatio(bench);
  const filledG = (plannedG ?? 0.0) + pasteG;
  if (emptyG + filledG > scale.capacity_g + STEP_GUARD) {
    return advice(Action.OTHER_SCALE, { reason: 'over_capacity' });
  }
  /** @type {Caution[]} */
  const cautions = ['gloves'];
  if (plannedG !== null && plannedG < warnG) cautions.push('proves_in_part');
  if (scale.repeatability_g === null) cautions.push('display_step_only');
  if (plannedG !== null && filledG > mostG + STEP_GUARD) cautions.push('over_largest');
  cautions.push(...pasteCautions(cup, additive, scale));
  return advice(Action.READ_CUP, { total_g: plannedG, smallest_cup_g: warnG, cautions });
}

/**
 * The paste, after part A was read and before the hardener is opened.
 * @param {Bench} bench
 * @param {PlannedAdditive} additive
 * @returns {Advice}
 */
function paste(bench, additive) {
  const { cup, system, scale } = bench;
  const addG = leftG(cup, additive);
  const stopG = (cup.display_g || 0.0) + addG;
  const hardenerG = hardenerTargetG(cup.part_a_g, systemRatio(system));
  const totalG = cup.part_a_g + hardenerG + additivesG(cup.pours) + addG;
  const mostDisplayG = (cup.display_g || 0.0) + mostLeftG(cup, additive, scale);
  return advice(Action.POUR, {
    component: additive.code,
    add_g: addG,
    display_stop_g: stopG,
    display_limit_g: Math.min(mostDisplayG, scale.capacity_g),
    total_g: totalG,
    cautions: ['gloves', ...over(bench, totalG, stopG), ...pasteCautions(cup, additive, scale)],
  });
}

/**
 * The hardener is open: what the cup still lacks, or the pour a restart broke off.
 * @param {Bench} bench
 * @returns {Advice}
 */
function missingPart(bench) {
  const { cup } = bench;
  const lacksA = !(cup.part_a_g > 0) || unfinishedPart(cup.pours) === 'a';
  if (!lacksA) return pour(bench, Action.POUR, 'b', ['eyes_covered']);
  return cup.part_b_g > 0 ? pour(bench, Action.POUR, 'a') : firstPour(bench);
}

/**
 * Pour one part until it matches the other; what is in the cup of it counts.
 * @param {Bench} bench
 * @param {ActionWord} action
 * @param {'a' | 'b'} component
 * @param {Caution[]} [cautions]
 * @returns {Advice}
 */
function pour(bench, action, component, cautions = []) {
  const { cup, system, scale, additive } = bench;
  const ratio = systemRatio(system);
  const missingG =
    component === 'b'
      ? hardenerTargetG(cup.part_a_g, ratio) - cup.part_b_g
      : cup.part_b_g / ratio - cup.part_a_g;
  // A pour broken off beyond its target ends where it stands.
  const addG = Math.max(0.0, missingG);
  const stopG = (cup.display_g || 0.0) + addG;
  const totalG = cup.part_a_g + cup.part_b_g + addG + additivesG(cup.pours);
  const wrongPaste = pasteCautions(cup, additive, scale);
  return advice(action, {
    component,
    add_g: addG,
    display_stop_g: stopG,
    window: window(cup, component, system, scale),
    total_g: totalG,
    cautions: [...cautions, ...over(bench, totalG, stopG), ...wrongPaste],
  });
}

/**
 * Whether a pour makes the cup too large for its system or volume, or for the scale.
 * @param {Bench} bench
 * @param {number} totalG
 * @param {number} stopG
 * @returns {Caution[]}
 */
function over({ scale, mostG }, totalG, stopG) {
  /** @type {Caution[]} */
  const cautions = [];
  if (totalG > mostG + STEP_GUARD) cautions.push('over_largest');
  if (stopG > scale.capacity_g) cautions.push('over_capacity');
  return cautions;
}

/**
 * What follows from the verdict. Out: the full top-up, never a part of it, which rounded to the
 * display could land outside.
 * @param {Bench} bench
 * @param {string} nowUtc
 * @param {number | null} temperatureC
 * @returns {Advice}
 */
function judged(bench, nowUtc, temperatureC) {
  const { cup, system } = bench;
  const goingOn = unfinishedPart(cup.pours);
  const isIn = cup.verdict === Verdict.IN || cup.verdict === Verdict.IN_UNPROVEN;
  if (!goingOn && (isIn || cup.deviation)) return afterVerdict(bench, nowUtc);
  const ended = correctingEnded(cup, system, nowUtc, temperatureC);
  if (ended) return advice(Action.SCRAP, { reason: ended });
  if (goingOn) return pour(bench, Action.POUR, goingOn);
  const addition = topUp(cup.part_a_g, cup.part_b_g, systemRatio(system));
  return pour(bench, Action.CORRECT, addition.component);
}

/**
 * @param {Bench} bench
 * @param {string} nowUtc
 * @returns {Advice}
 */
function afterVerdict({ cup, system, scale, mostG, additive }, nowUtc) {
  const isOver = cup.total_g > mostG + STEP_GUARD;
  /** @type {Caution[]} */
  const wrong = isOver ? ['over_largest'] : [];
  wrong.push(...pasteCautions(cup, additive, scale));
  if (cup.state === CupState.MIXING) {
    const cautions = [...mixCautions(cup, system, nowUtc), ...wrong];
    return advice(Action.FINISH_MIXING, { total_g: cup.total_g, cautions });
  }
  return advice(mixedAction(cup, isOver), { total_g: cup.total_g, cautions: ['do_not_leave', ...wrong] });
}

/**
 * @param {Cup} cup
 * @param {boolean} isOver
 */
function mixedAction({ state }, isOver) {
  if (state === CupState.JUDGED) return Action.MIX;
  // Never before it is mixed: the shares would differ, and nobody could say by how much.
  return isOver && state === CupState.MIXED ? Action.DIVIDE : Action.USE;
}
