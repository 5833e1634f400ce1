/**
 * What the log says about each step of a job: begun, done, tested, and what was written at it.
 *
 * Clocks of two phones differ. A row that names another one (`refers_to`) comes after it whatever
 * the times say: a `step_done` the start it ends, a `step_started` the end it follows.
 */
import { byId, voidedOf } from './rows.js';
import { parseUtc } from './times.js';

/** @typedef {import('../types.js').Happened} Happened */
/** @typedef {import('../types.js').Row} Row */

/** Kinds that tell of a step; the last two only add their words. */
const KINDS = new Set(['step_started', 'step_done', 'tack_tested', 'deviation', 'note']);
/** What the record of a demoulding must hold; without it the part is taken to be in the mould. */
export const SAMPLE_HARD = 'sample hard';
/** What is written at a peel ply that was left out: no layer lies there. */
export const LEFT_OUT = 'left out';
/** Steps in which a surface is prepared: this, then the name of the ply it is done for. */
const PREPARE = 'prepare ';
/** Kinds that concern every job. */
const OF_ALL = new Set(['voided', 'climate']);
/** @type {Readonly<Happened>} */
export const NOTHING = Object.freeze({
  started_at: '', done_at: '', shown: '', tested: '', tested_at: '', person: '', notes: [],
  start_ids: [], done_id: '',
});

/**
 * Rows of one job in any revision, what was measured in the shop, and what strikes rows.
 * @param {Iterable<Row>} rows
 * @param {string} job with or without its revision
 * @returns {Row[]}
 */
export function rowsOfJob(rows, job) {
  const code = job.split('@')[0];
  return [...rows].filter((row) => OF_ALL.has(row.kind) || row.job.split('@')[0] === code);
}

/**
 * What became of the steps, by name; struck rows count no more. Begun twice is begun once, and done
 * twice done once, at the first of both; begun again after it was done, a step runs anew, unless
 * that start names another row than that end. A surface is prepared as the last row about it says.
 * @param {Iterable<Row>} rows
 * @returns {Record<string, Happened>}
 */
export function happened(rows) {
  const every = [...rows];
  const struck = voidedOf(every);
  const told = every.filter(
    (row) => KINDS.has(row.kind) && row.cup === '' && row.step && !struck.has(row.event_id),
  );
  const begins = told.filter((row) => row.kind === 'step_started');
  const starts = new Map(begins.map((row) => [row.event_id, row.step]));
  /** @type {Record<string, Happened>} */
  const found = {};
  for (const row of inOrder(told)) {
    found[row.step] = after(found[row.step] ?? NOTHING, row, starts);
  }
  return found;
}

/**
 * Whether a `step_done` ends its step: demoulding does so once the sample was hard.
 * @param {Row} row
 */
export function isWhole(row) {
  return row.step !== 'demould' || row.note.includes(SAMPLE_HARD);
}

/**
 * By their times, but for rows that name another one: that one comes before them.
 * @param {Row[]} rows
 */
function inOrder(rows) {
  const timed = rows.map((row) => ({ row, at_ms: parseUtc(row.recorded_at) })).sort(byTime);
  const waiting = byId(timed.map(({ row }) => row));
  /** @type {Row[]} */
  const ordered = [];
  // A row that was taken along with a later one is not there any more.
  for (const first of [...waiting.keys()]) {
    const chain = [];
    for (let id = first; waiting.has(id); id = chain[0].refers_to) {
      chain.unshift(/** @type {Row} */ (waiting.get(id)));
      waiting.delete(id);
    }
    ordered.push(...chain);
  }
  return ordered;
}

/**
 * @param {{row: Row, at_ms: number}} one
 * @param {{row: Row, at_ms: number}} other
 */
function byTime(one, other) {
  if (one.at_ms !== other.at_ms) return one.at_ms - other.at_ms;
  if (one.row.log_id !== other.row.log_id) return one.row.log_id < other.row.log_id ? -1 : 1;
  return one.row.seq - other.row.seq;
}

/**
 * @param {Happened} was
 * @param {Row} row
 * @param {Map<string, string>} starts
 * @returns {Happened}
 */
function after(was, row, starts) {
  const { recorded_at: at, person } = row;
  if (row.kind === 'tack_tested') return { ...was, tested: row.note, tested_at: at, person };
  if (row.kind === 'step_done' && row.step.startsWith(PREPARE)) {
    return done({ ...was, done_at: '', person: '', notes: row.note ? [row.note] : [] }, row);
  }
  const told = row.note ? { ...was, notes: [...was.notes, row.note] } : was;
  if (row.kind === 'step_started') return begun(told, row);
  const ends = row.kind === 'step_done' && !was.done_at && isWhole(row) && endsIt(was, row, starts);
  return ends ? done(told, row) : told;
}

/** @param {Happened} was  @param {Row} row  @returns {Happened} */
function begun(was, row) {
  const { recorded_at, shown, person, event_id } = row;
  const isAnew = was.done_at ? ['', was.done_id].includes(row.refers_to) : !was.started_at;
  if (!isAnew) return { ...was, start_ids: [...was.start_ids, event_id] };
  return { ...was, started_at: recorded_at, done_at: '', shown, person, start_ids: [event_id], done_id: '' };
}

/**
 * Whether an end is that of the run now: not where it names the start of an earlier one.
 * @param {Happened} was
 * @param {Row} row
 * @param {Map<string, string>} starts
 */
function endsIt({ start_ids }, { refers_to, step }, starts) {
  return start_ids.includes(refers_to) || starts.get(refers_to) !== step;
}

/** @param {Happened} was  @param {Row} row  @returns {Happened} */
function done(was, { recorded_at, shown, person, event_id }) {
  return {
    ...was,
    done_at: recorded_at,
    shown: was.started_at ? was.shown : shown,
    person: person || was.person,
    done_id: event_id,
  };
}
