/** Fold the rows of one cup into its state. */
import { scaleReadabilityG } from '../cards.js';
import { inOrder, label } from '../chain.js';
import { OutOfRange } from '../errors.js';
import { isWireNumber } from '../numbers.js';
import { netOf } from '../weighing.js';
import { voidedOf } from '../rows.js';
import { flagsOf, judge } from './judgement.js';
import { OVER } from './pot-clock.js';
import { correctionsOf, finished, holds, unfinishedPart } from './pours.js';
import { read } from './readings.js';
import { CupState } from './state.js';

/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').CupStateWord} CupStateWord */
/** @typedef {import('../../types.js').Ending} Ending */
/** @typedef {import('../../types.js').LotUse} LotUse */
/** @typedef {import('../../types.js').Readings} Readings */
/** @typedef {import('../../types.js').Row} Row */
/** @typedef {import('../../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../../types.js').SystemCard} SystemCard */

/** @type {ReadonlySet<string>} */
export const ENDINGS = new Set(['scrapped', 'sampled', 'leftover']);

/** @type {ReadonlySet<string>} */
const FIRST_B = new Set(['weighed', 'scale_restarted']);

/** @type {ReadonlyArray<readonly [string, CupStateWord]>} */
const LATE_STATES = [
  ['poured', CupState.IN_USE],
  ['mixed', CupState.MIXED],
  ['mix_started', CupState.MIXING],
];

/**
 * What is in this cup, and is it in tolerance?
 * @param {Iterable<Row>} rows every row of one cup, any order
 * @param {SystemCard} system card of the cup's system, in the cup's revision
 * @param {ScaleCard} scale card of the cup's scale
 * @returns {Cup} the state of the cup; masses unrounded
 * @throws {OutOfRange} there is no row
 */
export function fold(rows, system, scale) {
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
  return {
    ...headOf(start),
    code: label(ordered),
    state: stateOf(standing, readings),
    ...contentOf(readings),
    ...judgement,
    lots: lotsOf(standing),
    ...eventsOf(standing),
    flags: flagsOf(ordered, standing, judgement.verdict, system, scale),
    last_event_id: last.event_id,
  };
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
function eventsOf(standing) {
  const ending = standing.find((row) => ENDINGS.has(row.kind));
  const firstB = standing.find((row) => FIRST_B.has(row.kind) && row.component === 'b');
  return {
    // A cup whose opening was never recorded counts from its first hardener reading.
    first_contact_at: timeOfFirst(standing, 'pour_opened') || (firstB?.recorded_at ?? ''),
    mix_started_at: timeOfFirst(standing, 'mix_started'),
    mixed_at: timeOfFirst(standing, 'mixed'),
    felt_warm: standing.some((row) => row.kind === 'felt_warm'),
    uses: standing
      .filter((row) => row.kind === 'poured')
      .map((row) => ({ job: row.job, step: row.step, at: row.recorded_at })),
    leftover_g: ending?.kind === 'leftover' ? numberOf(ending.value) : null,
    deviation: deviationOf(standing),
    pot_life_reason: potLifeReasonOf(standing),
    ending: /** @type {Ending} */ (ending?.kind ?? ''),
  };
}

/**
 * @param {readonly Row[]} standing
 * @param {Readings} readings
 * @returns {CupStateWord}
 */
function stateOf(standing, readings) {
  const kinds = new Set(standing.map((row) => row.kind));
  if ([...ENDINGS].some((kind) => kinds.has(kind))) return CupState.CLOSED;
  for (const [kind, state] of LATE_STATES) {
    if (kinds.has(kind)) return state;
  }
  const { pours } = readings;
  const before = finished(pours);
  if (holds(before, 'a') && holds(before, 'b')) return CupState.JUDGED;
  const goingOn = unfinishedPart(pours);
  if (kinds.has('pour_opened') || goingOn === 'b' || holds(pours, 'b')) return CupState.B_OPEN;
  if (holds(pours, 'a') && !goingOn) return CupState.A_WAITING;
  return readings.display_g === null ? CupState.STARTED : CupState.EMPTY_READ;
}

/**
 * @param {readonly Row[]} standing
 * @returns {LotUse[]}
 */
function lotsOf(standing) {
  const deviations = standing.filter((row) => row.kind === 'deviation');
  const reasons = new Map(deviations.map((row) => [row.refers_to, row.note]));
  return standing
    .filter((row) => row.kind === 'lot_used')
    .map(({ component, lot, container, event_id }) => ({
      component,
      lot,
      container,
      event_id,
      reason: reasons.get(event_id) ?? '',
    }));
}

/**
 * Reason under which a cup out of tolerance may be used, if one was written.
 * @param {readonly Row[]} standing
 * @returns {string}
 */
function deviationOf(standing) {
  const weighed = standing.filter((row) => row.kind === 'weighed');
  const readings = new Set(weighed.map((row) => row.event_id));
  const reasons = standing
    .filter((row) => row.kind === 'deviation' && readings.has(row.refers_to) && row.shown !== OVER)
    .map((row) => row.note);
  return reasons.at(-1) ?? '';
}

/**
 * Reason under which a cup goes on past its pot life; it lets no wrong ratio pass.
 * @param {readonly Row[]} standing
 * @returns {string}
 */
function potLifeReasonOf(standing) {
  const reasons = standing.filter((row) => row.kind === 'deviation' && row.shown === OVER);
  return reasons.at(-1)?.note ?? '';
}

/**
 * @param {readonly Row[]} standing
 * @param {string} kind
 * @returns {string}
 */
function timeOfFirst(standing, kind) {
  return standing.find((row) => row.kind === kind)?.recorded_at ?? '';
}

/**
 * @param {string} text
 * @returns {number | null}
 */
function numberOf(text) {
  return isWireNumber(text) ? Number(text) : null;
}
