/** The paste of a cup: what the plan asks for, and its words beside the figures. */
import { shop } from '../cups.js';
import { el } from '../parts/el.js';
import { scaleDecimals, scaleReadabilityG, systemRatio } from '../trade/cards.js';
import { added } from '../trade/cup/index.js';
import { pouredPct } from '../trade/cup/additive.js';
import { fixed, isWireNumber, stepInside } from '../trade/numbers.js';
import { targets } from '../trade/ratio.js';
import { figure, t } from '../words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('./cans.js').ChosenCan} ChosenCan */
/** @typedef {import('../shapes.js').PlannedCup} PlannedCup */
/** @typedef {import('../types.js').PlannedAdditive} PlannedAdditive */
/** @typedef {import('../types.js').SystemCard} SystemCard */

/**
 * The paste a plan asks for; null where it asks for none.
 * @param {PlannedCup | null} plan
 * @returns {PlannedAdditive | null}
 */
export function plannedAdditive(plan) {
  const code = plan?.additive ?? '';
  const share = plan?.additive_pct ?? '';
  if (!code || !isWireNumber(share) || !(Number(share) > 0)) return null;
  const card = shop()?.additives?.find((one) => one.code === code);
  return { code, share_pct: Number(share), cap_pct: card?.cap_pct ?? null };
}

/**
 * What stands under the figure while the paste is poured.
 * @param {Weighing} weighing
 * @param {ChosenCan | null} can
 */
export function pasteLines({ advice, scale, known }, can) {
  const [, high] = stepInside(0, advice.display_limit_g ?? 0, scaleReadabilityG(scale)) ?? [0, 0];
  const component = encodeURIComponent(advice.component);
  return [
    el('strong', {}, t('up to %(high)s is fine', { high: figure(fixed(high, scaleDecimals(scale))) })),
    can ? el('a', { href: `#/cans/${component}/${known.code}` }, `${can.container} · ${can.lot}`) : '',
  ].filter((line) => line !== '');
}

/**
 * What is in the cup while a part or the paste is poured; for the paste, how much of it that takes.
 * @param {Weighing} weighing
 */
export function contentWords(weighing) {
  const { advice, cup, scale } = weighing;
  const grams = (/** @type {number} */ mass_g) => figure(fixed(mass_g, scaleDecimals(scale)));
  if (advice.component === 'a') return '';
  if (advice.component !== 'b') {
    return t('%(paste)s g for %(part_a)s g A', { paste: grams(advice.add_g ?? 0), part_a: grams(cup.part_a_g) });
  }
  return [t('A %(mass)s g', { mass: grams(cup.part_a_g) }), ...addedWords(weighing)].join(' ');
}

/**
 * How much hardener that is, said where paste is in the cup: it follows part A alone.
 * @param {Weighing} weighing
 * @returns {string[]}
 */
export function hardenerWords({ advice, cup, scale }) {
  if (advice.component !== 'b' || added(cup).length === 0) return [];
  return [t('%(add)s g for A alone, none for the paste', { add: figure(fixed(advice.add_g ?? 0, scaleDecimals(scale))) })];
}

/**
 * Each additive in the cup, in words.
 * @param {Weighing} weighing
 */
export function addedWords({ cup, scale }) {
  return added(cup).map(({ code, net_g: net }) =>
    t('+ %(mass)s g %(code)s', { mass: figure(fixed(net, scaleDecimals(scale))), code }),
  );
}

/**
 * The paste on top of a planned cup, in words; empty where none is planned.
 * @param {PlannedCup} plan
 * @param {SystemCard | null} system
 */
export function plannedPasteWords(plan, system) {
  const additive = plannedAdditive(plan);
  if (!additive || !system || !(Number(plan.total) > 0)) return '';
  const planned = targets(Number(plan.total), systemRatio(system));
  const mass = figure(fixed((planned.part_a_g * pouredPct(additive)) / 100, 1));
  return t('+ %(mass)s g paste %(code)s', { mass, code: additive.code });
}
