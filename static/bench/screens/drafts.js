/** Rows about a reading, before they are written. */
import { fold } from '../trade/cup/index.js';
import { makeRow } from '../trade/rows.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('./cans.js').ChosenCan} ChosenCan */
/** @typedef {import('../shapes.js').Draft} Draft */

/**
 * @param {string} component
 * @param {string} value
 * @param {string} typed
 * @param {string} target
 * @returns {Draft}
 */
export function reading(component, value, typed, target) {
  return { kind: 'weighed', component, value, unit: 'g', typed, target };
}

/** @param {ChosenCan | null} can @returns {Draft[]} */
export function canRows(can) {
  if (!can) return [];
  const { component, lot, container, reason } = can;
  /** @type {Draft[]} */
  const rows = [{ kind: 'lot_used', component, lot, container, note: can.note }];
  if (reason) rows.push({ kind: 'deviation', note: reason, refers_to_previous: true });
  return rows;
}

/**
 * The verdict the screen will show once these rows are kept, so that the row can carry it.
 * @param {Weighing} weighing
 * @param {Draft[]} drafts
 * @returns {string}
 */
export function verdictAfter({ known, system, scale, cup }, drafts) {
  let after = known.rows.length ? cup.last_event_id : '';
  const provisional = drafts.map((draft, index) => {
    const { refers_to_previous: _, ...fields } = draft;
    const row = makeRow({ ...fields, event_id: `~${index}`, after, recorded_at: new Date().toISOString() });
    after = row.event_id;
    return row;
  });
  const judged = fold([...known.rows, ...provisional], system, scale);
  return judged.unknown ? 'unknown' : (judged.verdict ?? '');
}
