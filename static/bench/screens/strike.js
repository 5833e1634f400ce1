/** Undo: any row a person wrote can be struck, with a reason; it stays in the story, struck. */
import { cupLabelled } from '../cups.js';
import { button, el } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { voidedOf } from '../trade/rows.js';
import { clock, figure, t } from '../words.js';
import { cupHeader, draw, go, plainHeader } from './frame.js';
import { keep } from './keep.js';
import { kindWords } from './row-words.js';

/** @typedef {import('../types.js').Row} Row */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/** What may be taken back; what a cup is called and where it came from may not. */
const STRIKABLE = new Set(
  `weighed rezeroed scale_restarted lot_used pour_opened mix_started scraped mixed poured leftover
  scrapped sampled felt_warm deviation note covered uncovered setting disposed`.split(/\s+/),
);
const SHOWN = 12;

/**
 * Rows that may be struck, the latest first.
 * @param {KnownCup} known
 */
export function strikable({ rows }) {
  const struck = voidedOf(rows);
  return rows.filter((row) => STRIKABLE.has(row.kind) && !struck.has(row.event_id)).reverse();
}

/** @param {string} code */
export function strikeScreen(code) {
  const known = cupLabelled(code);
  const rows = known ? strikable(known) : [];
  if (!known || rows.length === 0) return go(`story/${code}`);
  draw(
    'strike',
    plainHeader(t('Undo'), `story/${code}`),
    cupHeader(known, 3),
    el('h1', {}, t('Which row was a mistake?')),
    el('p', {}, t('It stays in the story, struck, with your reason.')),
    el('ul', { class: 'cards' }, ...rows.slice(0, SHOWN).map((row) => el('li', {}, rowKey(known, row)))),
  );
}

/**
 * @param {KnownCup} known
 * @param {Row} row
 */
function rowKey(known, row) {
  const key = button('card', '', () => strike(known, row));
  const value = row.value ? `${figure(row.value)} ${row.unit}` : row.note;
  key.append(el('span', { class: 'card-lines' }, el('strong', {}, kindWords(row)), el('span', {}, [clock(row.recorded_at), value].filter(Boolean).join(' · '))));
  return key;
}

/**
 * @param {KnownCup} known
 * @param {Row} row
 */
async function strike(known, row) {
  const { value, reason } = await ask({
    title: t('Strike “%(row)s”?', { row: kindWords(row) }),
    lines: [consequence(row)],
    reason: t('Reason'),
    answers: [
      { text: t('No'), value: false },
      { text: t('Strike it'), value: true, main: true },
    ],
  });
  if (!value) return;
  const kept = await keep(known, [{ kind: 'voided', refers_to: row.event_id, note: reason }]);
  go(`${kept && cupLabelled(known.code)?.cup?.state !== 'closed' ? 'weigh' : 'story'}/${known.code}`);
}

/** @param {Row} row */
function consequence({ kind }) {
  if (kind === 'weighed' || kind === 'rezeroed' || kind === 'scale_restarted') {
    return t('It stays in the story, struck. If it is not read again, the ratio may become unknown.');
  }
  if (kind === 'pour_opened' || kind === 'lot_used') {
    return t('Strike it only if nothing of this can went into the cup. It stays in the story, struck.');
  }
  return t('It stays in the story, struck; the cup then stands where it stood without it.');
}
