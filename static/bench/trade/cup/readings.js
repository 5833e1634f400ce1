/**
 * From display readings to pours.
 *
 * The display runs on: each reading ends one pour and starts the next. A reading taken again
 * stands in the place of the one it refers to. A voided reading with no replacement merges its
 * neighbours; if they are of different parts, how much went into each is no longer known. A scale
 * that was restarted in the middle of a pour leaves the pour unfinished until its next reading.
 */
import { isWireNumber } from '../numbers.js';
import { Tally } from './tally.js';

/** @typedef {import('../../types.js').Readings} Readings */
/** @typedef {import('../../types.js').Row} Row */

/** @type {ReadonlySet<string>} */
export const READING_KINDS = new Set(['weighed', 'rezeroed', 'scale_restarted']);

/**
 * Work out the pours of one cup.
 * @param {readonly Row[]} rows rows of the cup in chain order
 * @param {ReadonlySet<string>} voided event ids of rows that were struck
 * @param {number} stepG display step of the scale, grams, > 0
 * @returns {Readings} pours in grams, the display now, and why they are not known if they are not
 */
export function read(rows, voided, stepG) {
  const replacements = replacementsOf(rows, voided);
  const tally = new Tally(stepG);
  for (const row of rows) {
    if (!READING_KINDS.has(row.kind) || (row.kind === 'weighed' && row.refers_to)) continue;
    const own = voided.has(row.event_id) ? null : { id: row.event_id, value: row.value };
    const standing = replacements.get(row.event_id) ?? own;
    if (standing === null || !isWireNumber(standing.value)) tally.miss(row);
    else tally.take(row, Number(standing.value), standing.id);
  }
  return tally.result();
}

/**
 * Standing reading of each that was read again, by the id of the first.
 * @param {readonly Row[]} rows
 * @param {ReadonlySet<string>} voided
 * @returns {Map<string, { id: string, value: string }>}
 */
function replacementsOf(rows, voided) {
  /** @type {Map<string, string>} */
  const first = new Map();
  /** @type {Map<string, { id: string, value: string }>} */
  const latest = new Map();
  for (const row of rows) {
    if (row.kind !== 'weighed' || !row.refers_to) continue;
    const root = first.get(row.refers_to) ?? row.refers_to;
    first.set(row.event_id, root);
    if (!voided.has(row.event_id) && isWireNumber(row.value)) {
      latest.set(root, { id: row.event_id, value: row.value });
    }
  }
  return latest;
}
