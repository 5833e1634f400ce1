/**
 * The cups this phone knows: planned by the office, started here, or open on another phone.
 */
import { allRows, facts } from './log/bench-log.js';
import { cups as groups, label } from './trade/chain.js';
import { scaleName, systemName } from './trade/cards.js';
import { fold } from './trade/cup/index.js';
import { isShare } from './trade/cup/sharing.js';
import { voidedOf } from './trade/rows.js';

/** @typedef {import('./types.js').Row} Row */
/** @typedef {import('./types.js').SystemCard} SystemCard */
/** @typedef {import('./types.js').ScaleCard} ScaleCard */
/** @typedef {import('./shapes.js').Bundle} Bundle */
/** @typedef {import('./shapes.js').Crew} Crew */
/** @typedef {import('./shapes.js').KnownCup} KnownCup */

/** @typedef {import('./shapes.js').PlannedCup} PlannedCup */

/**
 * @type {{bundle: Bundle | null, crew: Crew | null, rows: Row[], log_id: string,
 *   own_plans: PlannedCup[]}}
 */
let known = { bundle: null, crew: null, rows: [], log_id: '', own_plans: [] };
/**
 * Rows by cup, made once per reading of the store: a phone keeps every row it ever wrote.
 * @type {Row[][] | null}
 */
let grouped = null;

/** Read everything anew from the phone's own store. */
export async function refresh() {
  const { bundle, crew, log_id, own_plans } = await facts('bundle', 'crew', 'log_id', 'own_plans');
  const own = await allRows();
  const held = new Set(own.map((row) => row.event_id));
  const others = (bundle?.open_cups ?? []).flatMap((/** @type {{rows: Row[]}} */ cup) => cup.rows);
  const rows = [...own, ...others.filter((/** @type {Row} */ row) => !held.has(row.event_id))];
  known = { bundle: bundle ?? null, crew: crew ?? null, rows, log_id, own_plans: own_plans ?? [] };
  grouped = null;
}

function byCup() {
  grouped ??= groups(known.rows);
  return grouped;
}

/** @returns {Row[]} every row of this phone, and those of other phones' open cups */
export function knownRows() {
  return known.rows;
}

/** @returns {Bundle | null} */
export function shop() {
  return known.bundle;
}

/** @returns {Crew | null} */
export function crew() {
  return known.crew;
}

/**
 * System card by its name with revision.
 * @param {string} name
 */
export function systemNamed(name) {
  return known.bundle?.systems.find((card) => systemName(card) === name) ?? null;
}

/**
 * Scale card by its name with revision.
 * @param {string} name
 */
export function scaleNamed(name) {
  return known.bundle?.scales.find((card) => scaleName(card) === name) ?? null;
}

/**
 * Cup type by its code.
 * @param {string} code
 */
export function cupTypeNamed(code) {
  return known.bundle?.cup_types.find((card) => card.code === code) ?? null;
}

/**
 * Part a job makes, or the job's own name. A phone knows newer revisions than a cup was made for.
 * @param {string} job  with its revision
 */
export function partOf(job) {
  const [code] = job.split('@');
  const same = (known.bundle?.jobs ?? []).filter((card) => card.code === code);
  const exact = same.find((card) => `${code}@${card.revision}` === job);
  return (exact ?? same.sort((one, other) => one.revision - other.revision).at(-1))?.part ?? job;
}

/**
 * Whether this phone wrote a row.
 * @param {Row} row
 */
export function isOwn(row) {
  return row.log_id === known.log_id;
}

/**
 * Highest running number of this phone's own log among these rows.
 * @param {Row[]} rows
 */
export function highestOwnSeq(rows) {
  const own = rows.filter(isOwn);
  return Math.max(0, ...own.map((row) => row.seq));
}

/** @returns {KnownCup[]} started cups, the latest change first */
export function startedCups() {
  const told = byCup().map(tell);
  return told.sort((a, b) => (lastMoment(a) < lastMoment(b) ? 1 : -1));
}

/** @param {KnownCup} cup */
function lastMoment(cup) {
  return cup.rows.reduce((last, row) => (row.recorded_at > last ? row.recorded_at : last), '');
}

/** @returns {KnownCup[]} planned cups no phone has started as far as is known here */
export function plannedCups() {
  const started = new Set(known.rows.map((row) => row.cup));
  return plans()
    .filter((plan) => !started.has(plan.code))
    .map((plan) => ({
      code: plan.code,
      plan,
      rows: [],
      system: systemNamed(plan.system),
      scale: null,
      cup: null,
    }));
}

/**
 * Whether another cup that has not ended carries the same label.
 * @param {KnownCup} cup
 */
export function hasTwin(cup) {
  return startedUnder(cup.code).some(
    (other) =>
      other.code === cup.code &&
      other.cup?.state !== 'closed' &&
      other.rows[0].event_id !== cup.rows[0]?.event_id,
  );
}

/** @returns {PlannedCup[]} cups planned in the office and on this phone */
function plans() {
  return [...known.own_plans, ...(known.bundle?.planned_cups ?? [])];
}

/**
 * The latest cup under a label, started or planned; null if the label is not known here.
 * @param {string} code
 * @returns {KnownCup | null}
 */
export function cupLabelled(code) {
  const ever = startedUnder(code);
  // A label that moved on to another cup no longer stands on the one it was taken from.
  const now = ever.filter((cup) => cup.code === code);
  const started = now.length ? now : ever;
  // Two phones may have started the same label: this phone goes on with the cup it wrote to.
  const own = started.filter((cup) => cup.rows.some((row) => row.log_id === known.log_id));
  return own.at(-1) ?? started.at(-1) ?? plannedCups().find((cup) => cup.code === code) ?? null;
}

/**
 * The cup one of whose rows this is.
 * @param {string} eventId
 * @returns {KnownCup | null}
 */
export function cupOf(eventId) {
  const rows = byCup().find((group) => group.some((row) => row.event_id === eventId));
  return rows ? tell(rows) : null;
}

/**
 * Every cup that carried a label at some time, the oldest first.
 * @param {string} code
 */
function startedUnder(code) {
  const carried = byCup().filter((rows) => rows.some((row) => row.cup === code));
  return carried.map(tell);
}

/**
 * Cups with a row of some kind that was not struck, the latest change first.
 * @param {(row: Row) => boolean} wanted
 */
export function cupsOf(wanted) {
  return startedCups().filter(({ rows }) => {
    const struck = voidedOf(rows);
    return rows.some((row) => wanted(row) && !struck.has(row.event_id));
  });
}

/**
 * What the phone knows of a part by its code.
 * @param {string} code
 */
export function partLabelled(code) {
  return known.bundle?.parts?.find((part) => part.code === code) ?? null;
}

/**
 * What the phone knows of a can by its code.
 * @param {string} code
 */
export function canLabelled(code) {
  return known.bundle?.containers.find((can) => can.code === code) ?? null;
}

/**
 * @param {Row[]} rows
 * @returns {KnownCup}
 */
function tell(rows) {
  const start = rows[0];
  const plan = plans().find((cup) => cup.code === start.cup) ?? null;
  return { code: label(rows), plan, rows, ...cardsOf(rows), cup: foldedOf(rows) };
}

/** @param {Row[]} rows  of one cup */
function cardsOf([start]) {
  return { system: systemNamed(start.system), scale: scaleNamed(start.scale) };
}

/**
 * @param {Row[]} rows  of one cup
 * @param {ReadonlySet<string>} [above]  cups it is said to be a share of; a ring cannot be one
 * @returns {import('./types.js').Cup | null}
 */
function foldedOf(rows, above = new Set()) {
  const [start] = rows;
  const { system, scale } = cardsOf(rows);
  if (!system || !scale) return null;
  const of = isShare(start) && !above.has(start.event_id) ? dividedBy(start.refers_to) : undefined;
  const mix = of ? foldedOf(of, new Set([...above, start.event_id])) : null;
  return foldOrNothing(rows, system, scale, mix);
}

/**
 * Rows of the cup that a row divided.
 * @param {string} eventId
 */
function dividedBy(eventId) {
  return byCup().find((rows) => rows.some((row) => row.event_id === eventId && row.kind === 'divided'));
}

/**
 * The cup whose mix another one is a share of; null where it is none, or it is not known here.
 * @param {KnownCup} cup
 * @returns {KnownCup | null}
 */
export function mixOf({ rows }) {
  const of = rows[0] && isShare(rows[0]) ? dividedBy(rows[0].refers_to) : undefined;
  return of ? tell(of) : null;
}

/**
 * One cup that cannot be folded must not take the others with it.
 * @param {Row[]} rows
 * @param {SystemCard} system
 * @param {ScaleCard} scale
 * @param {import('./types.js').Cup | null} mix
 */
function foldOrNothing(rows, system, scale, mix) {
  try {
    return fold(rows, system, scale, mix);
  } catch (error) {
    console.error(error);
    return null;
  }
}
