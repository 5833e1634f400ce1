/** The judgement of a cup, and what about it a person should look at. */
import { voidedOf } from '../rows.js';
import { scaleName, scaleReadabilityG, systemRatio, systemTolerance } from '../cards.js';
import { doubleFilled } from '../chain.js';
import { ratioError } from '../ratio.js';
import { expandedUncertainty, netOf, readingVarianceG2, verdict } from '../weighing.js';
import { holds, unfinishedPart } from './pours.js';
import { read } from './readings.js';

/** @typedef {import('../../types.js').Flag} Flag */
/** @typedef {import('../../types.js').Judgement} Judgement */
/** @typedef {import('../../types.js').Readings} Readings */
/** @typedef {import('../../types.js').Row} Row */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../../types.js').SystemCard} SystemCard */
/** @typedef {import('../../types.js').VerdictWord} VerdictWord */

/**
 * Error, uncertainty and verdict of the pours; all null while the ratio is not known or a pour is
 * still going on.
 * @param {Readings} readings
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @returns {Judgement}
 */
export function judge(readings, system, scale) {
  const { pours, unknown } = readings;
  if (unknown || unfinishedPart(pours) || !holds(pours, 'a') || !holds(pours, 'b')) {
    return { ratio_error: null, uncertainty: null, verdict: null };
  }
  const ratio = systemRatio(system);
  const varianceG2 = readingVarianceG2(scaleReadabilityG(scale), scale.repeatability_g);
  const error = ratioError(netOf(pours, 'a'), netOf(pours, 'b'), ratio);
  const expanded = expandedUncertainty(pours, ratio, varianceG2);
  const word = verdict(error, systemTolerance(system), expanded);
  return { ratio_error: error, uncertainty: expanded, verdict: word };
}

/**
 * What a person should look at.
 * @param {readonly Row[]} ordered
 * @param {readonly Row[]} standing
 * @param {VerdictWord | null} word
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @returns {Flag[]}
 */
export function flagsOf(ordered, standing, word, system, scale) {
  /** @type {[Flag, boolean][]} */
  const flags = [
    ['double_fill', doubleFilled(ordered)],
    ['hardener_opened_twice', standing.filter((row) => row.kind === 'pour_opened').length > 1],
    ['other_scale', standing.some((row) => row.scale !== '' && row.scale !== scaleName(scale))],
    ['start_missing', ordered.every((row) => row.kind !== 'cup_started')],
    ['verdict_changed', verdictChanged(ordered, standing, word, system, scale)],
  ];
  return flags.filter(([, raised]) => raised).map(([name]) => name);
}

/**
 * Whether a later row moved the verdict of a cup that was already poured.
 * @param {readonly Row[]} ordered
 * @param {readonly Row[]} standing
 * @param {VerdictWord | null} word
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @returns {boolean}
 */
function verdictChanged(ordered, standing, word, system, scale) {
  const firstUse = standing.find(({ kind }) => kind === 'poured' || kind === 'divided');
  if (firstUse === undefined) return false;
  const before = ordered.slice(0, ordered.indexOf(firstUse));
  const readings = read(before, voidedOf(before), scaleReadabilityG(scale));
  return judge(readings, system, scale).verdict !== word;
}
