/** What the log says about each step of a job: begun, done, tested, and what was written at it. */
import { voidedOf } from './rows.js';
import { parseUtc } from './times.js';

/** @typedef {import('../types.js').Happened} Happened */
/** @typedef {import('../types.js').Row} Row */

/** Kinds that tell of a step; the last two only add their words. */
const KINDS = new Set(['step_started', 'step_done', 'tack_tested', 'deviation', 'note']);
/** What the record of a demoulding must hold; without it the part is taken to be in the mould. */
export const SAMPLE_HARD = 'sample hard';
/** @type {Readonly<Happened>} */
export const NOTHING = Object.freeze({
  started_at: '', done_at: '', shown: '', tested: '', tested_at: '', person: '', notes: [],
});

/**
 * Rows of one job in any revision, and what strikes rows.
 * @param {Iterable<Row>} rows
 * @param {string} job with or without its revision
 * @returns {Row[]}
 */
export function rowsOfJob(rows, job) {
  const code = job.split('@')[0];
  return [...rows].filter((row) => row.kind === 'voided' || row.job.split('@')[0] === code);
}

/**
 * What became of the steps, by name; struck rows count no more. Begun twice is begun once, and done
 * twice done once, at the first of both; begun again after it was done, a step runs anew.
 * @param {Iterable<Row>} rows
 * @returns {Record<string, Happened>}
 */
export function happened(rows) {
  const every = [...rows];
  const struck = voidedOf(every);
  const told = every.filter(
    (row) => KINDS.has(row.kind) && row.cup === '' && row.step && !struck.has(row.event_id),
  );
  /** @type {Record<string, Happened>} */
  const found = {};
  const timed = told.map((row) => ({ row, at_ms: parseUtc(row.recorded_at) }));
  for (const { row } of timed.sort(inOrder)) {
    found[row.step] = after(found[row.step] ?? NOTHING, row);
  }
  return found;
}

/**
 * @param {{row: Row, at_ms: number}} one
 * @param {{row: Row, at_ms: number}} other
 */
function inOrder(one, other) {
  if (one.at_ms !== other.at_ms) return one.at_ms - other.at_ms;
  if (one.row.log_id !== other.row.log_id) return one.row.log_id < other.row.log_id ? -1 : 1;
  return one.row.seq - other.row.seq;
}

/**
 * @param {Happened} was
 * @param {Row} row
 * @returns {Happened}
 */
function after(was, row) {
  const { recorded_at: at, person } = row;
  if (row.kind === 'tack_tested') return { ...was, tested: row.note, tested_at: at, person };
  const told = row.note ? { ...was, notes: [...was.notes, row.note] } : was;
  if (row.kind === 'step_started' && (was.done_at || !was.started_at)) {
    return { ...told, started_at: at, done_at: '', shown: row.shown, person };
  }
  if (row.kind === 'step_done' && !was.done_at && isWhole(row)) {
    const shown = was.started_at ? was.shown : row.shown;
    return { ...told, done_at: at, shown, person: person || was.person };
  }
  return told;
}

/** @param {Row} row */
function isWhole(row) {
  return row.step !== 'demould' || row.note.includes(SAMPLE_HARD);
}
