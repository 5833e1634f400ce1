/** Lay-up sheets this phone knows, as they stand now, and what is written to them. */
import { partOf, plannedCups, shop, startedCups } from './cups.js';
import { writeOfShop } from './record.js';
import { shopRows } from './shop-rows.js';
import { systemName } from './trade/cards.js';
import { foldSheet } from './trade/lay-up.js';
import { rowsOfJob } from './trade/lay-up-rows.js';
import { voidedOf } from './trade/rows.js';

/** @typedef {import('./shapes.js').Draft} Draft */
/** @typedef {import('./shapes.js').KnownCup} KnownCup */
/** @typedef {import('./types.js').Sheet} Sheet */
/** @typedef {import('./types.js').StepState} StepState */
/** @typedef {Sheet & {job: string, part: string}} KnownSheet */

/** Steps resin is laid on in; they take a while, so that their beginning counts. */
export const LAID_ON = new Set(['surface_coat', 'ply']);

/** @returns {KnownSheet[]} the one whose next limit comes first is the first */
export function knownSheets() {
  const rows = shopRows();
  const told = (shop()?.sheets ?? []).map((sheet) => tell(sheet, rows));
  return told.sort((one, other) => (urgency(one) < urgency(other) ? -1 : 1));
}

/**
 * @param {string} job  with or without its revision
 * @returns {KnownSheet | null}
 */
export function sheetOf(job) {
  const found = (shop()?.sheets ?? []).find((sheet) => codeOf(sheet.job) === codeOf(job));
  return found ? tell(found, shopRows()) : null;
}

/** @param {KnownSheet} sheet */
function urgency({ current, limit_at }) {
  return current ? limit_at || '~' : '~~';
}

/**
 * @param {{job: string, steps: import('./types.js').Step[]}} sheet
 * @param {import('./types.js').Row[]} rows
 * @returns {KnownSheet}
 */
function tell({ job, steps }, rows) {
  const bundle = shop();
  const cards = { systems: bundle?.systems ?? [], release_agents: bundle?.release_agents ?? [] };
  const folded = foldSheet(steps, rowsOfJob(rows, job), cards, new Date().toISOString());
  return { ...folded, job, part: partOf(job) };
}

/**
 * A job stays the same job in its next revision.
 * @param {string} job
 */
export function codeOf(job) {
  return job.split('@')[0];
}

/**
 * @param {KnownSheet} sheet
 * @param {string} name
 */
export function stepOf(sheet, name) {
  return sheet.steps.find(({ step }) => step.name === name) ?? null;
}

/** @param {KnownSheet} sheet */
export function resinSteps({ steps }) {
  return steps.filter(({ step }) => LAID_ON.has(step.kind));
}

/**
 * Cups of a job that have not ended, those planned for a step first.
 * @param {string} job
 * @param {string} step
 * @returns {{own: KnownCup[], others: KnownCup[]}} `others` are mixed for other steps of the job
 */
export function cupsFor(job, step) {
  const started = startedCups().filter(({ rows, cup }) => codeOf(rows[0].job) === codeOf(job) && cup?.state !== 'closed');
  const planned = plannedCups().filter(({ plan }) => codeOf(plan?.job ?? '') === codeOf(job) && plan?.step === step);
  return {
    own: [...started.filter(({ rows }) => rows[0].step === step), ...planned],
    others: started.filter(({ rows, cup }) => rows[0].step !== step && ['mixed', 'in_use'].includes(cup?.state ?? '')),
  };
}

/**
 * Write rows about a step; they are on disk when this resolves.
 * @param {KnownSheet} sheet
 * @param {StepState} state
 * @param {Draft[]} drafts
 */
export function writeStep(sheet, { step }, drafts) {
  const card = shop()?.systems.find((one) => one.newest && one.code === step.system);
  const common = { job: sheet.job, step: step.name, system: card ? systemName(card) : '' };
  return writeOfShop(drafts.map((draft) => ({ ...common, ...draft })));
}

/**
 * The last row that says a step was begun, done or tested, and that was not struck.
 * @param {KnownSheet} sheet
 * @param {string} name
 */
export function lastRowOf(sheet, name) {
  const rows = rowsOfJob(shopRows(), sheet.job);
  const struck = voidedOf(rows);
  const told = rows.filter(
    (row) => row.step === name && row.cup === '' && /^(step_|tack_)/.test(row.kind) && !struck.has(row.event_id),
  );
  return told.sort((one, other) => (one.recorded_at < other.recorded_at ? -1 : 1)).at(-1) ?? null;
}
