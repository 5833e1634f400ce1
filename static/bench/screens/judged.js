/** What every screen after the verdict shows: pot clock where it stops, verdict, cup, rule, masses. */
import { cupSection } from '../parts/cup-section.js';
import { el } from '../parts/el.js';
import { errorRule } from '../parts/rule.js';
import { verdictBlock } from '../parts/verdict.js';
import { sayAloud } from '../parts/voice.js';
import { scaleDecimals, systemTolerance } from '../trade/cards.js';
import { largestMixG } from '../trade/clocks.js';
import { largestG } from '../trade/cup/limits.js';
import { fixed } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { cupHeader, draw, warning } from './frame.js';
import { addedWords } from './paste.js';
import { pasteNotes } from './paste-notes.js';
import { isOver, potWarning } from './pot.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/**
 * @param {Weighing} weighing
 * @param {(Node | null)[]} words
 * @param {(Node | null)[]} actions
 */
export function judged(weighing, words, actions) {
  const { cup, known, system, content } = weighing;
  const capacity_g =
    (weighing.cup_volume_ml ?? 0) * (system.mixed_density_g_cm3 ?? 1) || content.total_g * 1.4 || 1;
  const { ratio_error: error, uncertainty } = cup;
  const shown =
    error === null || uncertainty === null || cup.verdict === null
      ? null
      : errorRule({ error, uncertainty, tolerance: systemTolerance(system), verdict: cup.verdict });
  const block = verdictBlock(cup);
  void sayAloud(known.code, block.textContent ?? '');
  draw(
    'weigh judged',
    cupHeader(known, 3),
    potWarning(weighing),
    block,
    cup.deviation ? el('p', { class: 'deviation' }, t('Used with a written reason: %(reason)s', { reason: cup.deviation })) : null,
    isOver(weighing)
      ? null
      : el(
          'div',
          { class: 'drawings' },
          el('figure', {}, cupSection(content.pours, capacity_g), el('figcaption', {}, massWords(weighing))),
          shown,
        ),
    el(
      'div',
      { class: 'words' },
      ...words.filter((word) => word !== null),
      ...pasteNotes(weighing).map((text) => warning(text)),
    ),
    el('div', { class: 'actions' }, ...actions.filter((action) => action !== null)),
  );
}

/** @param {Weighing} weighing */
function massWords(weighing) {
  const { cup, content, scale } = weighing;
  const grams = (/** @type {number} */ mass_g) => figure(fixed(mass_g, scaleDecimals(scale)));
  return el(
    'span',
    { class: 'masses' },
    cup.share_of ? el('span', {}, t('of the mix in %(code)s:', { code: cup.share_of })) : null,
    el('span', {}, t('A %(mass)s g', { mass: grams(content.part_a_g) })),
    el('span', {}, t('B %(mass)s g', { mass: grams(content.part_b_g) })),
    ...addedWords(weighing).map((words) => el('span', {}, words)),
  );
}

/**
 * What to do with a cup that is too large, until it is divided.
 * @param {Weighing} weighing
 * @param {number} [total_g]
 */
export function overLargest(weighing, total_g = weighing.cup.total_g) {
  if (!weighing.advice.cautions.includes('over_largest')) return [];
  const then = t('Mix fully first, then divide at once into two labelled cups, or scrap it. Never divide before it is mixed.');
  return [el('p', {}, overLargestWords(weighing, total_g), ' ', then)];
}

/**
 * How much too large it is.
 * @param {Weighing} weighing
 * @param {number} [total_g]
 */
export function overLargestWords({ system, temperature_c, cup_volume_ml: volume, cup }, total_g = cup.total_g) {
  const total = figure(fixed(total_g, 1));
  const largest_g = largestMixG(system, temperature_c);
  if (volume !== null && largestG(system, volume, temperature_c) < largest_g) {
    return t('Total %(total)s g is more than this cup holds.', { total });
  }
  return t('Total %(total)s g is over this system’s %(largest)s g.', { total, largest: figure(String(largest_g)) });
}
