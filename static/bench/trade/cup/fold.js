/** Fold the rows of one cup into its state. */
import { scaleReadabilityG } from '../cards.js';
import { inOrder, label } from '../chain.js';
import { OutOfRange } from '../errors.js';
import { netOf } from '../weighing.js';
import { voidedOf } from '../rows.js';
import { flagsOf, judge } from './judgement.js';
import {
  ENDINGS, coversOf, deviationOf, endingOf, firstAt, firstContactAt, lotsOf, numberOf, readAt, reasonShown,
  settingOf, usesOf,
} from './history.js';
import { MIXED_EARLY } from './mixing.js';
import { OVER } from './pot-clock.js';
import { correctionsOf, finished, holds, unfinishedPart } from './pours.js';
import { Fact, reached } from './progress.js';
import { read } from './readings.js';
import { isShare, share } from './sharing.js';

/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').FactWord} FactWord */
/** @typedef {import('../../types.js').Ending} Ending */
/** @typedef {import('../../types.js').Readings} Readings */
/** @typedef {import('../../types.js').Row} Row */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../../types.js').SystemCard} SystemCard */

/**
 * What is in this cup, and is it in tolerance?
 * @param {Iterable<Row>} rows every row of one cup, any order
 * @param {SystemCard} system card of the cup's system, in the cup's revision
 * @param {ScaleCard} scale card of the cup's scale
 * @param {Cup | null} [mix] the cup whose mix this one is a share of; null for a cup of its own
 * @returns {Cup} the state of the cup; masses unrounded
 * @throws {OutOfRange} there is no row
 */
export function fold(rows, system, scale, mix = null) {
  const ordered = inOrder(rows);
  // Rows that hang on nothing may stand before the start of the cup; they say nothing about it.
  const start = ordered.find((row) => row.kind === 'cup_started') ?? ordered[0];
  const last = ordered[ordered.length - 1];
  if (start === undefined || last === undefined) {
    throw new OutOfRange('rows', 0, 'at least the row that started the cup');
  }
  const voided = voidedOf(ordered);
  const standing = ordered.filter((row) => !voided.has(row.event_id));
  const readings = read(ordered, voided, scaleReadabilityG(scale));
  const judgement = judge(readings, system, scale);
  const facts = factsOf(standing, readings);
  /** @type {Cup} */
  const cup = {
    ...headOf(start),
    code: label(ordered),
    state: reached(facts),
    ...contentOf(readings),
    ...judgement,
    lots: lotsOf(standing),
    ...timesOf(standing),
    ...eventsOf(standing),
    flags: flagsOf(ordered, standing, judgement.verdict, system, scale),
    last_event_id: last.event_id,
  };
  return isShare(start) ? share(cup, facts, mix) : cup;
}

/** @param {Row} start */
function headOf(start) {
  return {
    id: start.event_id,
    system: start.system,
    scale: start.scale,
    person: start.person,
    job: start.job,
    step: start.step,
    started_at: start.recorded_at,
    planned_total_g: start.kind === 'cup_started' ? numberOf(start.value) : null,
    share_of: isShare(start) ? start.target : '',
  };
}

/** @param {Readings} readings */
function contentOf(readings) {
  let totalG = 0.0;
  for (const pour of readings.pours) totalG += pour.net_g;
  return {
    cup_g: readings.cup_g,
    display_g: readings.display_g,
    opens: readings.opens,
    pours: readings.pours,
    part_a_g: netOf(readings.pours, 'a'),
    part_b_g: netOf(readings.pours, 'b'),
    total_g: totalG,
    unknown: readings.unknown,
    corrections: correctionsOf(readings.pours),
    last_reading_id: readings.last_id,
    last_reading_component: readings.last_component,
  };
}

/** @param {readonly Row[]} standing */
function timesOf(standing) {
  const { first, last } = readAt(standing, 'a');
  return {
    a_weighed_at: first,
    a_read_at: last,
    covers: coversOf(standing),
    first_contact_at: firstContactAt(standing),
    mix_started_at: firstAt(standing, 'mix_started'),
    scraped_at: firstAt(standing, 'scraped'),
    mixed_at: firstAt(standing, 'mixed'),
    set_at: settingOf(standing)?.recorded_at ?? '',
    disposed_at: firstAt(standing, 'disposed'),
  };
}

/** @param {readonly Row[]} standing */
function eventsOf(standing) {
  const ending = endingOf(standing);
  return {
    mix_reason: reasonShown(standing, MIXED_EARLY),
    felt_warm: standing.some((row) => row.kind === 'felt_warm'),
    uses: usesOf(standing),
    leftover_g: ending?.kind === 'leftover' ? numberOf(ending.value) : null,
    deviation: deviationOf(standing),
    pot_life_reason: reasonShown(standing, OVER),
    ending: /** @type {Ending} */ (ending?.kind ?? ''),
    set_where: settingOf(standing)?.note ?? '',
  };
}

/**
 * @param {readonly Row[]} standing
 * @param {Readings} readings
 * @returns {FactWord[]}
 */
function factsOf(standing, { pours, display_g: displayG }) {
  const kinds = new Set(standing.map((row) => row.kind));
  const goingOn = unfinishedPart(pours);
  const before = finished(pours);
  /** @type {[FactWord, boolean][]} */
  const facts = [
    [Fact.UNIDENTIFIED, kinds.has('unidentified')],
    [Fact.EMPTY_CUP_READ, displayG !== null],
    [Fact.A_WEIGHED, holds(pours, 'a') && !goingOn],
    [Fact.HARDENER_OPENED, kinds.has('pour_opened') || goingOn === 'b' || holds(pours, 'b')],
    [Fact.BOTH_WEIGHED, holds(before, 'a') && holds(before, 'b')],
    [Fact.MIX_STARTED, kinds.has('mix_started')],
    [Fact.MIXED, kinds.has('mixed')],
    [Fact.POURED, kinds.has('poured')],
    [Fact.ENDED, [...ENDINGS].some((kind) => kinds.has(kind))],
    [Fact.LEFT_TO_SET, kinds.has('setting')],
    [Fact.COLD_AND_HARD, kinds.has('disposed')],
  ];
  return facts.filter(([, isTrue]) => isTrue).map(([fact]) => fact);
}
