/**
 * Which rows belong to one cup, and in which order.
 *
 * A cup is its `cup_started` event; its code is only the label. Each row names in `after` the last
 * row of the cup its phone knew, so the order follows that chain and not the clocks of the phones.
 * Where two phones wrote after the same row the chain forks; both branches are kept.
 */
import { byId, voidedOf } from './rows.js';

/** @typedef {import('../types.js').Row} Row */

/** @type {ReadonlySet<string>} */
const FILLS = new Set(['weighed', 'pour_opened']);

/**
 * Group rows into cups, each in the order of its chain.
 * @param {Iterable<Row>} rows rows of any cups in any order; rows without a cup are left out
 * @returns {Row[][]} one list per cup, starting with its `cup_started` where that row is known;
 *   cups in the order in which they began
 */
export function cups(rows) {
  const known = byId([...rows].filter((row) => row.cup));
  /** @type {Map<string, Row[]>} */
  const groups = new Map();
  for (const row of known.values()) append(groups, rootOf(row, known), row);
  const ordered = [...groups.values()].map((group) => ({ group: inOrder(group) }));
  return ordered
    .sort((one, other) => compareMoments(one.group[0], other.group[0]))
    .map(({ group }) => group);
}

/**
 * Rows of one cup in the order of the chain; ties by time, log and running number.
 * @param {Iterable<Row>} rows
 * @returns {Row[]}
 */
export function inOrder(rows) {
  const known = byId(rows);
  /** @type {Map<string, Row[]>} */
  const waiting = new Map();
  /** @type {Row[]} */
  const queue = [];
  for (const row of known.values()) {
    if (known.has(row.after) && row.after !== row.event_id) append(waiting, row.after, row);
    else insert(queue, row);
  }
  /** @type {Row[]} */
  const ordered = [];
  for (let row = queue.shift(); row !== undefined; row = queue.shift()) {
    ordered.push(row);
    for (const follower of waiting.get(row.event_id) ?? []) insert(queue, follower);
    waiting.delete(row.event_id);
  }
  // A ring of rows cannot come from a phone; if one ever arrives its rows are still shown.
  for (const group of waiting.values()) ordered.push(...group);
  return ordered;
}

/**
 * Code on the label a cup carries now.
 * @param {Iterable<Row>} rows every row of one cup, any order
 * @returns {string} the code of its last `labelled` row that stands, else the one it was started
 *   under; empty without rows
 */
export function label(rows) {
  const ordered = inOrder(rows);
  const voided = voidedOf(ordered);
  let code = ordered.find((row) => row.kind === 'cup_started')?.cup || ordered[0]?.cup || '';
  for (const row of ordered) {
    if (row.kind === 'labelled' && !voided.has(row.event_id)) code = row.cup;
  }
  return code;
}

/**
 * Whether two phones filled this cup without knowing of each other.
 *
 * True where the chain forks and at least two branches hold a reading or opened the hardener.
 * @param {Iterable<Row>} rows
 * @returns {boolean}
 */
export function doubleFilled(rows) {
  const ordered = inOrder(rows);
  /** @type {Map<string, Row[]>} */
  const followers = new Map();
  for (const row of ordered) append(followers, row.after, row);
  /** @type {Set<string>} */
  const fills = new Set();
  for (const row of ordered.reverse()) {
    const branches = (followers.get(row.event_id) ?? []).filter((f) => fills.has(f.event_id));
    if (branches.length > 1) return true;
    if (branches.length > 0 || (FILLS.has(row.kind) && !row.refers_to)) fills.add(row.event_id);
  }
  return false;
}

/**
 * @param {Row} row
 * @param {ReadonlyMap<string, Row>} known
 * @returns {string}
 */
function rootOf(row, known) {
  const seen = new Set([row.event_id]);
  let at = row;
  while (at.kind !== 'cup_started') {
    const before = known.get(at.after);
    if (before === undefined || seen.has(before.event_id)) {
      // The beginning has not arrived yet: the label holds these rows together.
      return `label:${at.cup}`;
    }
    seen.add(before.event_id);
    at = before;
  }
  return at.event_id;
}

/**
 * Order of two rows that no chain ties together, by code unit as on the server.
 * @param {Row | undefined} one
 * @param {Row | undefined} other
 * @returns {number}
 */
function compareMoments(one, other) {
  if (one === undefined || other === undefined) return 0;
  if (one.recorded_at !== other.recorded_at) return one.recorded_at < other.recorded_at ? -1 : 1;
  if (one.log_id !== other.log_id) return one.log_id < other.log_id ? -1 : 1;
  return one.seq - other.seq;
}

/**
 * Put a row into its place of a sorted queue, behind its equals.
 * @param {Row[]} queue
 * @param {Row} row
 * @returns {void}
 */
function insert(queue, row) {
  let low = 0;
  let high = queue.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (compareMoments(queue[middle], row) <= 0) low = middle + 1;
    else high = middle;
  }
  queue.splice(low, 0, row);
}

/**
 * @param {Map<string, Row[]>} groups
 * @param {string} key
 * @param {Row} row
 * @returns {void}
 */
function append(groups, key, row) {
  const group = groups.get(key);
  if (group === undefined) groups.set(key, [row]);
  else group.push(row);
}
