/** What every screen after the verdict shows: verdict, cup, rule, masses, pot clock. */
import { cupSection } from '../parts/cup-section.js';
import { el } from '../parts/el.js';
import { errorRule } from '../parts/rule.js';
import { verdictBlock } from '../parts/verdict.js';
import { scaleDecimals, systemTolerance } from '../trade/cards.js';
import { largestMixG, potLifeMin } from '../trade/clocks.js';
import { fixed } from '../trade/numbers.js';
import { clock, figure, t } from '../words.js';
import { cupHeader, draw, warning } from './frame.js';
import { colderWords, potLifeWords } from './warmth-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

const MINUTE_MS = 60000;

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
    verdictBlock(cup),
    cup.deviation ? el('p', { class: 'deviation' }, t('Used with a written reason: %(reason)s', { reason: cup.deviation })) : null,
    el(
      'div',
      { class: 'drawings' },
      el('figure', {}, cupSection(cup.pours, capacity_g), el('figcaption', {}, massWords(weighing))),
      shown,
    ),
    el('div', { class: 'words' }, ...words.filter((word) => word !== null)),
    el('div', { class: 'actions' }, ...actions.filter((action) => action !== null)),
  );
}

/** @param {Weighing} weighing */
function massWords({ cup, scale }) {
  const grams = (/** @type {number} */ mass_g) => figure(fixed(mass_g, scaleDecimals(scale)));
  return el(
    'span',
    { class: 'masses' },
    el('span', {}, t('A %(mass)s g', { mass: grams(cup.part_a_g) })),
    el('span', {}, t('B %(mass)s g', { mass: grams(cup.part_b_g) })),
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

/** @param {Weighing} weighing */
export function potClock(weighing) {
  const { cup, system, temperature_c } = weighing;
  if (!cup.first_contact_at) return null;
  const since = clock(cup.first_contact_at);
  const minutes = potLifeMin(system, temperature_c);
  const sheet = system.pot_life;
  if (minutes === null || sheet === null) {
    return warning(t('The pot clock runs since %(since)s. No pot life is on the card: see the data sheet. Feel the cup. Do not leave it standing.', { since }));
  }
  const ends = new Date(Date.parse(cup.first_contact_at) + minutes * MINUTE_MS).toISOString();
  const values = {
    since,
    ends: clock(ends),
    mass: figure(String(sheet.test_mass_g)),
    total: figure(fixed(cup.total_g, 0)),
    life: potLifeWords(weighing),
  };
  return warning(potWords(values, cup.total_g > sheet.test_mass_g), ...colderWords(weighing));
}

/**
 * @param {Record<string, string>} values
 * @param {boolean} isLarger  than the mass the sheet speaks of
 */
function potWords(values, isLarger) {
  if (values.life) {
    return isLarger
      ? t('The pot clock runs since %(since)s, until %(ends)s: %(life)s, for %(mass)s g; this cup is %(total)s g: expect less. Feel the cup. Do not leave it standing.', values)
      : t('The pot clock runs since %(since)s, until %(ends)s: %(life)s, for %(mass)s g. Feel the cup. Do not leave it standing.', values);
  }
  return isLarger
    ? t('The pot clock runs since %(since)s. The sheet says %(ends)s for %(mass)s g; this cup is %(total)s g: expect less. Feel the cup. Do not leave it standing.', values)
    : t('The pot clock runs since %(since)s. The sheet says %(ends)s for %(mass)s g. Feel the cup. Do not leave it standing.', values);
}
