/** What every screen after the verdict shows: pot clock where it stops, verdict, cup, rule, masses. */
import { cupSection } from '../parts/cup-section.js';
import { el } from '../parts/el.js';
import { errorRule } from '../parts/rule.js';
import { verdictBlock } from '../parts/verdict.js';
import { scaleDecimals, systemTolerance } from '../trade/cards.js';
import { largestMixG } from '../trade/clocks.js';
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
  const { cup, known, system } = weighing;
  const capacity_g =
    (weighing.cup_volume_ml ?? 0) * (system.mixed_density_g_cm3 ?? 1) || cup.total_g * 1.4 || 1;
  const { ratio_error: error, uncertainty } = cup;
  const shown =
    error === null || uncertainty === null || cup.verdict === null
      ? null
      : errorRule({ error, uncertainty, tolerance: systemTolerance(system), verdict: cup.verdict });
  draw(
    'weigh judged',
    cupHeader(known, 3),
    potWarning(weighing),
    verdictBlock(cup),
    cup.deviation ? el('p', { class: 'deviation' }, t('Used with a written reason: %(reason)s', { reason: cup.deviation })) : null,
    isOver(weighing)
      ? null
      : el(
          'div',
          { class: 'drawings' },
          el('figure', {}, cupSection(cup.pours, capacity_g), el('figcaption', {}, massWords(weighing))),
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
  const { cup, scale } = weighing;
  const grams = (/** @type {number} */ mass_g) => figure(fixed(mass_g, scaleDecimals(scale)));
  return el(
    'span',
    { class: 'masses' },
    el('span', {}, t('A %(mass)s g', { mass: grams(cup.part_a_g) })),
    el('span', {}, t('B %(mass)s g', { mass: grams(cup.part_b_g) })),
    ...addedWords(weighing).map((words) => el('span', {}, words)),
  );
}

/**
 * @param {Weighing} weighing
 * @param {number} [total_g]
 */
export function overLargest({ advice, system, cup, temperature_c }, total_g = cup.total_g) {
  if (!advice.cautions.includes('over_largest')) return [];
  const values = {
    total: figure(fixed(total_g, 1)),
    largest: figure(String(largestMixG(system, temperature_c))),
  };
  return [
    el(
      'p',
      {},
      t('Total %(total)s g is over this system’s %(largest)s g: mix fully first, then divide at once into two labelled cups, or scrap it. Never divide before it is mixed.', values),
    ),
  ];
}
