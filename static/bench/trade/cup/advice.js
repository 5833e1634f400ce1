/** The one next thing to do with a cup. */
import { scaleReadabilityG, systemRatio, systemTolerance } from '../cards.js';
import { STEP_GUARD, WARN_SHARE } from '../constants.js';
import { hardenerTargetG, largestPartAG, targets, topUp } from '../ratio.js';
import { readingVarianceG2, smallestCupG, Verdict } from '../weighing.js';
import { Action, advice } from './actions.js';
import { correctingEnded, largestG } from './limits.js';
import { unfinishedPart } from './pours.js';
import { CupState } from './state.js';
import { window } from './window.js';

/** @typedef {import('../../types.js').ActionWord} ActionWord */
/** @typedef {import('../../types.js').Advice} Advice */
/** @typedef {import('../../types.js').Caution} Caution */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../../types.js').SystemCard} SystemCard */
/**
 * A cup on its scale, and the most it may hold.
 * @typedef {{ cup: Cup, system: SystemCard, scale: ScaleCard, mostG: number }} Bench
 */

export { Action, largestG };

/**
 * Say what comes next.
 * @param {Cup} cup the folded cup
 * @param {SystemCard} system its card
 * @param {ScaleCard} scale the scale it stands on
 * @param {string} nowUtc time now, RFC 3339
 * @param {number | null} [temperatureC] shop temperature, degrees Celsius, null if not known
 * @param {number | null} [cupVolumeMl] volume of the empty cup, null if not known
 * @returns {Advice} exactly one instruction, whatever the rows of the cup say
 */
export function advise(cup, system, scale, nowUtc, temperatureC = null, cupVolumeMl = null) {
  const bench = { cup, system, scale, mostG: largestG(system, cupVolumeMl, temperatureC) };
  if (cup.state === CupState.CLOSED) return advice(Action.NONE, { reason: cup.ending });
  if (cup.unknown) return advice(Action.SCRAP, { reason: cup.unknown });
  switch (cup.state) {
    case CupState.STARTED:
    case CupState.EMPTY_READ:
      return firstPour(bench);
    case CupState.A_WAITING:
      return pour(bench, Action.OPEN_HARDENER, 'b', ['eyes_covered']);
    case CupState.B_OPEN:
      return missingPart(bench);
    default:
      break;
  }
  const holdsBoth = cup.part_a_g > 0 && cup.part_b_g > 0;
  if (!holdsBoth) return advice(Action.SCRAP, { reason: 'part_missing' });
  return judged(bench, nowUtc, temperatureC);
}

/**
 * Part A as planned; after a restart what of it is still to go.
 * @param {Bench} bench
 * @returns {Advice}
 */
function firstPour({ cup, system, scale, mostG }) {
  const plan = planOf({ cup, system, scale, mostG });
  if (plan.action === Action.OTHER_SCALE || cup.display_g === null) return plan;
  const ratio = systemRatio(system);
  const thereG = cup.part_a_g;
  const limitG = largestPartAG(mostG, ratio);
  const leftG =
    plan.total_g === null ? null : Math.max(0.0, targets(plan.total_g, ratio).part_a_g - thereG);
  return {
    ...plan,
    action: Action.POUR,
    component: 'a',
    add_g: leftG,
    display_stop_g: leftG === null ? null : cup.display_g + leftG,
    display_limit_g: Math.min(cup.display_g + limitG - thereG, scale.capacity_g),
  };
}

/**
 * The planned total, judged for this scale: read the empty cup, or take another scale. With no
 * total planned there is nothing to judge: the scale names its smallest cup.
 * @param {Bench} bench
 * @returns {Advice}
 */
function planOf({ cup, system, scale, mostG }) {
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
  if (emptyG + (plannedG ?? 0.0) > scale.capacity_g + STEP_GUARD) {
    return advice(Action.OTHER_SCALE, { reason: 'over_capacity' });
  }
  /** @type {Caution[]} */
  const cautions = ['gloves'];
  if (plannedG !== null && plannedG < warnG) cautions.push('proves_in_part');
  if (scale.repeatability_g === null) cautions.push('display_step_only');
  if (plannedG !== null && plannedG > mostG + STEP_GUARD) cautions.push('over_largest');
  return advice(Action.READ_CUP, { total_g: plannedG, smallest_cup_g: warnG, cautions });
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
function pour({ cup, system, scale, mostG }, action, component, cautions = []) {
  const ratio = systemRatio(system);
  const missingG =
    component === 'b'
      ? hardenerTargetG(cup.part_a_g, ratio) - cup.part_b_g
      : cup.part_b_g / ratio - cup.part_a_g;
  // A pour broken off beyond its target ends where it stands.
  const leftG = Math.max(0.0, missingG);
  const stopG = (cup.display_g || 0.0) + leftG;
  const totalG = cup.part_a_g + cup.part_b_g + leftG;
  /** @type {Caution[]} */
  const over = [];
  if (totalG > mostG + STEP_GUARD) over.push('over_largest');
  if (stopG > scale.capacity_g) over.push('over_capacity');
  return advice(action, {
    component,
    add_g: leftG,
    display_stop_g: stopG,
    window: window(cup, component, system, scale),
    total_g: totalG,
    cautions: [...cautions, ...over],
  });
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
  if (!goingOn && (isIn || cup.deviation)) return afterVerdict(bench);
  const ended = correctingEnded(cup, system, nowUtc, temperatureC);
  if (ended) return advice(Action.SCRAP, { reason: ended });
  if (goingOn) return pour(bench, Action.POUR, goingOn);
  const addition = topUp(cup.part_a_g, cup.part_b_g, systemRatio(system));
  return pour(bench, Action.CORRECT, addition.component);
}

/**
 * @param {Bench} bench
 * @returns {Advice}
 */
function afterVerdict({ cup, mostG }) {
  /** @type {Caution[]} */
  const over = cup.total_g > mostG + STEP_GUARD ? ['over_largest'] : [];
  if (cup.state === CupState.MIXING) {
    return advice(Action.FINISH_MIXING, { total_g: cup.total_g, cautions: over });
  }
  const action = cup.state === CupState.JUDGED ? Action.MIX : Action.USE;
  return advice(action, { total_g: cup.total_g, cautions: ['do_not_leave', ...over] });
}
