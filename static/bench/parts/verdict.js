/** The verdict: a word, a sentence, a shape. Never colour alone. */
import { t } from '../words.js';
import { el, svg } from './el.js';

/**
 * @param {import('../types.js').Cup} cup  judged, or with its ratio unknown
 * @returns {HTMLElement}
 */
export function verdictBlock(cup) {
  const word = cup.verdict ?? 'unknown';
  const { title, sentence } = texts(cup);
  return el(
    'section',
    { class: `verdict verdict-${word}`, role: 'status' },
    shape(word, cup.ratio_error ?? 0),
    el('div', {}, el('h1', {}, title), el('p', {}, sentence)),
  );
}

/**
 * The verdict in one word, as it is recorded and shown in lists.
 * @param {import('../types.js').Cup} cup
 */
export function verdictWord(cup) {
  if (cup.unknown) return t('Ratio unknown');
  if (cup.verdict === null) return '';
  return {
    in: t('In'),
    in_unproven: t('In, unproven'),
    out_unproven: t('Out, unproven'),
    out: t('Out'),
  }[cup.verdict];
}

/**
 * Which way a ratio is off, in words.
 * @param {number} error
 */
export function directionWords(error) {
  return error > 0 ? t('too much hardener (hardener-rich)') : t('too little hardener (hardener-lean)');
}

/** @param {import('../types.js').Cup} cup */
function texts(cup) {
  const title = verdictWord(cup);
  const direction = directionWords(cup.ratio_error ?? 0);
  if (cup.unknown) return { title, sentence: t('Readings are missing. Not into a part.') };
  const sentences = {
    in: t('and this scale proves it'),
    in_unproven: t('inside the tolerance, but this scale cannot prove it'),
    out_unproven: t('%(direction)s, but this scale cannot prove it', { direction }),
    out: direction,
  };
  return { title, sentence: cup.verdict ? sentences[cup.verdict] : '' };
}

/**
 * Arrows closing on a band, an arrow above or below it, or a band without an arrow; unproven in
 * outline.
 * @param {string} word
 * @param {number} error
 */
export function shape(word, error) {
  const outline = word.endsWith('unproven') ? 'outline' : 'solid';
  const drawing = svg('svg', { viewBox: '0 0 60 48', class: `shape ${outline}`, 'aria-hidden': 'true' });
  const low = word === 'out' || word === 'out_unproven' ? (error > 0 ? 40 : 20) : 38;
  const high = word === 'out' || word === 'out_unproven' ? (error > 0 ? 28 : 8) : 10;
  for (const y of [low, high]) {
    drawing.append(svg('line', { x1: 4, x2: 56, y1: y, y2: y, class: 'shape-band' }));
  }
  const arrows = {
    in: ['M 28 24 l -16 -9 v 18 z', 'M 32 24 l 16 -9 v 18 z'],
    out: [error > 0 ? 'M 30 4 l 13 18 h -26 z' : 'M 30 44 l 13 -18 h -26 z'],
    unknown: [],
  };
  const family = word.startsWith('in') ? 'in' : word.startsWith('out') ? 'out' : 'unknown';
  for (const d of arrows[family]) drawing.append(svg('path', { d, class: 'shape-arrow' }));
  if (family === 'unknown') drawing.append(svg('text', { x: 30, y: 32, class: 'shape-query' }, '?'));
  return drawing;
}
