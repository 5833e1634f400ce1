/** Rows about a reading, before they are written. */
import { fold } from '../trade/cup/index.js';
import { fixed } from '../trade/numbers.js';
import { makeRow } from '../trade/rows.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('./cans.js').ChosenCan} ChosenCan */
/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */

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
    const { refers_to_previous: _, begins_share: __, ...fields } = draft;
    const row = makeRow({ ...fields, event_id: `~${index}`, after, recorded_at: new Date().toISOString() });
    after = row.event_id;
    return row;
  });
  const judged = fold([...known.rows, ...provisional], system, scale);
  return judged.unknown ? 'unknown' : (judged.verdict ?? '');
}

/**
 * Rows that start a planned cup: its start, and the mass of the cup where it is known.
 * @param {KnownCup} known
 * @returns {Draft[]}
 */
export function startRows(known) {
  const { plan, scale } = known;
  /** @type {Draft[]} */
  const rows = [{ kind: 'cup_started', value: plan?.total ?? '', unit: 'g' }];
  if (plan?.cup_mass && scale) {
    const value = fixed(Number(plan.cup_mass), decimalsOf(scale));
    rows.push({ kind: 'weighed', component: 'cup', value, unit: 'g', note: 'mass stands on the label' });
  }
  return rows;
}

/** @param {ScaleCard} scale */
function decimalsOf(scale) {
  return (scale.readability.split('.')[1] ?? '').length;
}
