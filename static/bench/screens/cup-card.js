/** A cup in a list. */
import { partOf } from '../cups.js';
import { el } from '../parts/el.js';
import { verdictWord } from '../parts/verdict.js';
import { stepWords } from '../step-words.js';
import { foldUnidentified } from '../trade/cup/unidentified.js';
import { clock, figure, t } from '../words.js';
import { plannedPasteWords } from './paste.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/**
 * What stands on the card of a cup: its code, what it is for, and how far it is.
 * @param {KnownCup} known
 * @returns {Node[]}
 */
export function cupCard(known) {
  const lines = known.rows.length ? startedLines(known) : plannedLines(known);
  return [el('span', { class: 'code' }, known.code), el('span', { class: 'card-lines' }, ...lines)];
}

/** @param {KnownCup} known */
function plannedLines(known) {
  const plan = /** @type {import('../shapes.js').PlannedCup} */ (known.plan);
  const system = known.system ? `${known.system.resin} + ${known.system.hardener_word}` : plan.system;
  return [
    el('strong', {}, [plan.job && partOf(plan.job), stepWords(plan.step)].filter(Boolean).join(' · ') || t('No job')),
    el('span', {}, [`${figure(plan.total)} g`, system, plannedPasteWords(plan, known.system)].filter(Boolean).join(' · ')),
  ];
}

/** @param {KnownCup} known */
function startedLines(known) {
  const start = known.rows[0];
  const name = [start.job && partOf(start.job), stepWords(start.step)].filter(Boolean).join(' · ') || t('No job');
  return [el('strong', {}, name), el('span', { class: 'state' }, stateLine(known))];
}

/**
 * How far a started cup is, in one line.
 * @param {KnownCup} known
 */
export function stateLine({ cup, system, rows }) {
  const lost = cup ? null : foldUnidentified(rows);
  if (lost) return [t('unidentified'), lost.gross_g === null ? '' : `${figure(String(lost.gross_g))} g`].filter(Boolean).join(' · ');
  return cup ? stateWords(cup, system?.hardener_word ?? '') : t('card not known here');
}

/**
 * @param {import('../types.js').Cup} cup
 * @param {string} word  its hardener is called
 */
function stateWords(cup, word) {
  const verdict = verdictWord(cup);
  const states = {
    started: t('started'),
    empty_read: t('empty cup read'),
    a_waiting: t('A weighed, waits for %(word)s since %(time)s', { word, time: cup.a_weighed_at && clock(cup.a_weighed_at) }),
    b_open: t('hardener open since %(time)s', { time: cup.first_contact_at && clock(cup.first_contact_at) }),
    judged: verdict,
    mixing: t('mixing · %(verdict)s', { verdict }),
    mixed: t('mixed · %(verdict)s', { verdict }),
    in_use: t('in use · %(verdict)s', { verdict }),
    unidentified: t('unidentified'),
    setting: t('left to set since %(time)s, in view', { time: cup.set_at && clock(cup.set_at) }),
    closed: t('closed · %(verdict)s', { verdict: verdict || t('no verdict') }),
  };
  return states[cup.state];
}
