/** The one next thing to do with a cup. */
import { scaleReadabilityG, systemRatio, systemTolerance } from '../cards.js';
import { STEP_GUARD, WARN_SHARE } from '../constants.js';
import { hardenerTargetG, largestPartAG, targets, topUp } from '../ratio.js';
import { readingVarianceG2, smallestCupG, Verdict } from '../weighing.js';
import { correctingEnded, largestG } from './limits.js';
import { CupState } from './state.js';
import { window } from './window.js';

/** @typedef {import('../../types.js').ActionWord} ActionWord */
/** @typedef {import('../../types.js').Advice} Advice */
/** @typedef {import('../../types.js').Caution} Caution */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../../types.js').SystemCard} SystemCard */

export { largestG };

/** What a person does next. */
export const Action = Object.freeze({
  OTHER_SCALE: /** @type {const} */ ('other_scale'),
  READ_CUP: /** @type {const} */ ('read_cup'),
  POUR: /** @type {const} */ ('pour'),
  OPEN_HARDENER: /** @type {const} */ ('open_hardener'),
  CORRECT: /** @type {const} */ ('correct'),
  SCRAP: /** @type {const} */ ('scrap'),
  MIX: /** @type {const} */ ('mix'),
  FINISH_MIXING: /** @type {const} */ ('finish_mixing'),
  USE: /** @type {const} */ ('use'),
  NONE: /** @type {const} */ ('none'),
});

/**
 * Say what comes next.
 * @param {Cup} cup the folded cup
 * @param {SystemCard} system its card
 * @param {ScaleCard} scale the scale it stands on
 * @param {string} nowUtc time now, RFC 3339
 * @param {number | null} [temperatureC] shop temperature, degrees Celsius, null if not known
 * @param {number | null} [cupVolumeMl] volume of the empty cup, null if not known
 * @returns {Advice} exactly one instruction
 */
export function advise(cup, system, scale, nowUtc, temperatureC = null, cupVolumeMl = null) {
  if (cup.state === CupState.CLOSED) return advice(Action.NONE, { reason: cup.ending });
  if (cup.unknown) return advice(Action.SCRAP, { reason: cup.unknown });
  const limitG = largestG(system, cupVolumeMl);
  switch (cup.state) {
    case CupState.STARTED:
    case CupState.EMPTY_READ:
      return firstPour(cup, system, scale, limitG);
    case CupState.A_WAITING:
      return hardener(cup, system, scale, limitG, Action.OPEN_HARDENER);
    case CupState.B_OPEN:
      return hardener(cup, system, scale, limitG, Action.POUR);
    default:
      break;
  }
  if (cup.verdict === Verdict.IN || cup.verdict === Verdict.IN_UNPROVEN || cup.deviation) {
    return afterVerdict(cup, system);
  }
  const ended = correctingEnded(cup, system, nowUtc, temperatureC);
  if (ended) return advice(Action.SCRAP, { reason: ended });
  return correction(cup, system, scale, limitG);
}

/**
 * @param {ActionWord} action
 * @param {Partial<Advice>} [part]
 * @returns {Advice}
 */
function advice(action, part = {}) {
  return {
    action,
    component: '',
    add_g: null,
    display_stop_g: null,
    display_limit_g: null,
    window: null,
    total_g: null,
    smallest_cup_g: null,
    reason: '',
    cautions: [],
    ...part,
  };
}

/**
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @param {number} largestCupG
 * @returns {Advice}
 */
function firstPour(cup, system, scale, largestCupG) {
  const plannedG = cup.planned_total_g || 0.0;
  const ratio = systemRatio(system);
  const tolerance = systemTolerance(system);
  const varianceG2 = readingVarianceG2(scaleReadabilityG(scale), scale.repeatability_g);
  const refuseG = smallestCupG(ratio, tolerance, varianceG2, 1);
  const warnG = smallestCupG(ratio, tolerance, varianceG2, WARN_SHARE);
  if (plannedG < refuseG - STEP_GUARD) {
    return advice(Action.OTHER_SCALE, { smallest_cup_g: refuseG, reason: 'scale_too_coarse' });
  }
  /** @type {Caution[]} */
  const cautions = ['gloves'];
  if (plannedG < warnG) cautions.push('proves_in_part');
  if (scale.repeatability_g === null) cautions.push('display_step_only');
  if (plannedG > largestCupG + STEP_GUARD) cautions.push('over_largest');
  const plan = { total_g: plannedG, smallest_cup_g: warnG, cautions };
  if (cup.state === CupState.STARTED) return advice(Action.READ_CUP, plan);
  const displayG = cup.display_g || 0.0;
  const partAG = targets(plannedG, ratio).part_a_g;
  return advice(Action.POUR, {
    ...plan,
    component: 'a',
    add_g: partAG,
    display_stop_g: displayG + partAG,
    display_limit_g: Math.min(displayG + largestPartAG(largestCupG, ratio), scale.capacity_g),
  });
}

/**
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @param {number} largestCupG
 * @param {ActionWord} action
 * @returns {Advice}
 */
function hardener(cup, system, scale, largestCupG, action) {
  const partBG = hardenerTargetG(cup.part_a_g, systemRatio(system));
  const stopG = (cup.display_g || 0.0) + partBG - cup.part_b_g;
  const totalG = cup.part_a_g + partBG;
  /** @type {Caution[]} */
  const cautions = ['eyes_covered'];
  if (totalG > largestCupG + STEP_GUARD) cautions.push('over_largest');
  if (stopG > scale.capacity_g) cautions.push('over_capacity');
  return advice(action, {
    component: 'b',
    add_g: partBG - cup.part_b_g,
    display_stop_g: stopG,
    window: window(cup, 'b', system, scale),
    total_g: totalG,
    cautions,
  });
}

/**
 * The full top-up: never a part of it, which rounded to the display could land outside.
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @param {number} largestCupG
 * @returns {Advice}
 */
function correction(cup, system, scale, largestCupG) {
  const addition = topUp(cup.part_a_g, cup.part_b_g, systemRatio(system));
  return advice(Action.CORRECT, {
    component: addition.component,
    add_g: addition.add_g,
    display_stop_g: (cup.display_g || 0.0) + addition.add_g,
    window: window(cup, addition.component, system, scale),
    total_g: addition.total_g,
    cautions: addition.total_g > largestCupG + STEP_GUARD ? ['over_largest'] : [],
  });
}

/**
 * @param {Cup} cup
 * @param {SystemCard} system
 * @returns {Advice}
 */
function afterVerdict(cup, system) {
  /** @type {Caution[]} */
  const over = cup.total_g > system.largest_cup_g + STEP_GUARD ? ['over_largest'] : [];
  if (cup.state === CupState.MIXING) {
    return advice(Action.FINISH_MIXING, { total_g: cup.total_g, cautions: over });
  }
  const action = cup.state === CupState.JUDGED ? Action.MIX : Action.USE;
  return advice(action, { total_g: cup.total_g, cautions: ['do_not_leave', ...over] });
}
