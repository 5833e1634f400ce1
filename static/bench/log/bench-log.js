/**
 * The bench log: rows are added, never changed, and stay after the server has them.
 */
import { ROWS, done, fact, setFact, transact } from './store.js';
import { eventId } from './event-id.js';
import { FORMAT, makeRow } from '../trade/rows.js';

/** @typedef {import('../types.js').Row} Row */
/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').Holdings} Holdings */

/** Another window or phone wrote to this cup in the meantime; look again before you write. */
export class CupChanged extends Error {}

/**
 * Add rows in one transaction: all of them are kept, or none.
 * @param {Draft[]} drafts  what the rows say; number, id, time and chain are added here
 * @param {{after: string, known: ReadonlySet<string>, known_seq: number, cup: string,
 *   app_version: string}} place
 *   the cup's last row known to the writer, the ids of all its rows, the highest running number of
 *   this phone among them, and the label it carries; no label for rows of no cup
 * @returns {Promise<Row[]>} the rows as kept; resolves once they are on disk
 */
export function append(drafts, place) {
  return transact('readwrite', async (transaction) => {
    const store = transaction.objectStore(ROWS);
    const logId = await fact(transaction, 'log_id');
    const newest = await done(store.openCursor(null, 'prev'));
    const newer = await done(store.getAll(IDBKeyRange.lowerBound(place.known_seq, true)));
    if (newer.some((row) => goesOn(row, place))) throw new CupChanged();
    const given = drafts.find((draft) => draft.kind === 'labelled')?.cup;
    if (given && (await done(store.index('cup').count(given)))) throw new CupChanged();
    const first = newest ? Number(newest.key) : 0;
    const rows = chained(drafts, place).map((row, index) => ({ ...row, log_id: logId, seq: first + index + 1 }));
    for (const row of rows) store.add(row);
    return rows;
  });
}

/**
 * Drafts as rows of a chain. Rows of no cup form none; a draft that begins a share of the cup begins
 * a chain of its own and refers to the row of the cup before it.
 * @param {Draft[]} drafts
 * @param {{after: string, cup: string, app_version: string}} place
 * @returns {Row[]}
 */
function chained(drafts, { after, cup, app_version }) {
  let previous = after;
  let divided = after;
  return drafts.map((draft) => {
    const row = complete({ cup, ...draft, app_version });
    row.after = row.cup && !draft.begins_share ? previous : '';
    if (draft.refers_to_previous) row.refers_to = previous;
    if (draft.begins_share) row.refers_to = divided;
    if (row.kind === 'divided') divided = row.event_id;
    previous = row.event_id;
    return row;
  });
}

/**
 * Whether a row this phone wrote since goes on with the same cup, whatever label it carries now.
 * @param {Row} row
 * @param {{after: string, known: ReadonlySet<string>, cup: string}} place
 */
function goesOn(row, { after, known, cup }) {
  if (!cup) return false;
  return after ? known.has(row.after) : row.kind === 'cup_started' && row.cup === cup;
}

/**
 * @param {Draft} draft
 * @returns {Row}
 */
function complete(draft) {
  const now = new Date();
  const { refers_to_previous: _, begins_share: __, ...fields } = draft;
  return makeRow({
    ...fields,
    format: FORMAT,
    event_id: eventId(now.getTime(), crypto.getRandomValues(new Uint8Array(10))),
    recorded_at: now.toISOString(),
    utc_offset_min: String(-now.getTimezoneOffset()),
  });
}

/** @returns {Promise<Row[]>} every row of this phone, in order */
export function allRows() {
  return transact('readonly', (transaction) => done(transaction.objectStore(ROWS).getAll()));
}

/** @returns {Promise<number>} the highest running number of this phone, 0 where it has no row */
export function highestSeq() {
  return transact('readonly', async (transaction) => {
    const newest = await done(transaction.objectStore(ROWS).openKeyCursor(null, 'prev'));
    return newest ? Number(newest.key) : 0;
  });
}

/**
 * Facts by name; undefined where one was never set.
 * @param {string[]} names
 * @returns {Promise<Record<string, any>>}
 */
export function facts(...names) {
  return transact('readonly', async (transaction) => {
    /** @type {Record<string, any>} */
    const found = {};
    for (const name of names) found[name] = await fact(transaction, name);
    return found;
  });
}

/**
 * Keep facts, all or none.
 * @param {Record<string, unknown>} values
 */
export function keepFacts(values) {
  return transact('readwrite', async (transaction) => {
    for (const [name, value] of Object.entries(values)) setFact(transaction, name, value);
  });
}

/**
 * Rows the server does not hold, oldest first.
 * @param {number} limit
 * @returns {Promise<{rows: Row[], total: number}>}
 */
export async function unsent(limit) {
  const { holdings } = await facts('holdings');
  const rows = (await allRows()).filter((row) => !isHeld(row.seq, holdings));
  return { rows: rows.slice(0, limit), total: rows.length };
}

/**
 * Whether the server has said that it holds a row.
 * @param {number} seq
 * @param {Holdings | undefined} holdings
 */
export function isHeld(seq, holdings) {
  return holdings !== undefined && seq <= holdings.highest && !inGap(seq, holdings.missing);
}

/**
 * @param {number} seq
 * @param {[number, number][]} gaps
 */
function inGap(seq, gaps) {
  return gaps.some(([from, to]) => from <= seq && seq <= to);
}

/**
 * Keep what the server answered: what it holds, codes it gave, and the next token; all or none.
 * @param {Holdings} holdings
 * @param {string[]} codes
 * @param {{used: string, next: string} | null} renewed  the token asked with, and the one to use now
 */
export function keepAnswer(holdings, codes, renewed) {
  return transact('readwrite', async (transaction) => {
    setFact(transaction, 'holdings', holdings);
    await put(transaction, codes, holdings.epoch);
    // The phone may have been paired anew while the answer was under way.
    if (renewed && (await fact(transaction, 'token')) === renewed.used) {
      setFact(transaction, 'token', renewed.next);
    }
  });
}

/**
 * Keep codes the server gave.
 * @param {string[]} codes
 * @param {string} epoch  the server's
 */
export function addCodes(codes, epoch) {
  return transact('readwrite', (transaction) => put(transaction, codes, epoch));
}

/**
 * Within one transaction, or a code that is being used could come back. Codes of another epoch
 * go: a server restored from a backup may not know them and could give them to someone else.
 * @param {IDBTransaction} transaction
 * @param {string[]} codes
 * @param {string} epoch
 */
async function put(transaction, codes, epoch) {
  if (codes.length === 0) return;
  const isSame = (await fact(transaction, 'codes_epoch')) === epoch;
  const held = isSame ? ((await fact(transaction, 'codes')) ?? []) : [];
  setFact(transaction, 'codes', [...new Set([...held, ...codes])]);
  setFact(transaction, 'codes_epoch', epoch);
}

/**
 * Keep a plan of this phone under a code, in one transaction.
 * @param {Omit<import('../shapes.js').PlannedCup, 'code'>} plan
 * @param {string} given  code of a label at hand; empty takes the next code of this phone's block
 * @returns {Promise<string>} the code; empty where there is none left
 */
export function keepPlan(plan, given) {
  return transact('readwrite', async (transaction) => {
    /** @type {string[]} */
    const block = (await fact(transaction, 'codes')) ?? [];
    const code = given || block[0];
    if (!code) return '';
    const plans = (await fact(transaction, 'own_plans')) ?? [];
    setFact(transaction, 'codes', block.filter((one) => one !== code));
    const others = plans.filter((/** @type {{code: string}} */ one) => one.code !== code);
    setFact(transaction, 'own_plans', [...others, { ...plan, code }]);
    return code;
  });
}

/**
 * Take codes of this phone's block; none of them is ever given again.
 * @param {number} count
 * @returns {Promise<string[]>} as many as asked for; none where there are fewer
 */
export function takeCodes(count) {
  return transact('readwrite', async (transaction) => {
    /** @type {string[]} */
    const block = (await fact(transaction, 'codes')) ?? [];
    if (block.length < count) return [];
    setFact(transaction, 'codes', block.slice(count));
    return block.slice(0, count);
  });
}
