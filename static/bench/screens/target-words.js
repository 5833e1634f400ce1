/** The target in words: what to pour, up to where, what is in, what this scale cannot do. */
import { hasTwin } from '../cups.js';
import { el } from '../parts/el.js';
import { scaleDecimals, scaleReadabilityG } from '../trade/cards.js';
import { largestMixG } from '../trade/clocks.js';
import { atLeastG, fixed, stepInside, toStep } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { twinWords, warning } from './frame.js';
import { hardenerWords, pasteLines } from './paste.js';
import { pasteNotes } from './paste-notes.js';
import { leastTemperatureWords } from './warmth-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('./cans.js').ChosenCan} ChosenCan */

/**
 * A display as the scale would show it.
 * @param {number} value_g
 * @param {Weighing} weighing
 */
export function display(value_g, { scale }) {
  return fixed(toStep(value_g, scaleReadabilityG(scale)), scaleDecimals(scale));
}

/** @param {Weighing} weighing */
export function pourTitle({ advice, system, cup }) {
  const resin = el('mark', { class: 'mark-resin' }, t('part A'));
  const hardener = el('mark', { class: 'mark-hardener' }, t('hardener %(word)s', { word: system.hardener_word }));
  const first = advice.component === 'a' && !cup.part_b_g;
  if (first) return around(t('Pour %(part)s until the scale shows'), resin);
  if (advice.component === 'a') return around(t('Now %(part)s until it shows'), resin);
  const paste = el('mark', { class: 'mark-paste' }, t('paste %(code)s', { code: advice.component }));
  return around(t('Now %(part)s until it shows'), advice.component === 'b' ? hardener : paste);
}

/**
 * A sentence with an element in its place.
 * @param {string} sentence
 * @param {Node} element
 */
function around(sentence, element) {
  const [before, after = ''] = sentence.split('%(part)s');
  return [before, element, after];
}

/**
 * @param {Weighing} weighing
 * @param {ChosenCan | null} can
 */
export function pourLines(weighing, can) {
  const { advice, scale, cup } = weighing;
  if (advice.component === 'a' && !cup.part_b_g) {
    const [, high] = stepInside(0, advice.display_limit_g ?? 0, scaleReadabilityG(scale)) ?? [0, 0];
    const from = can?.container ? `${can.container} · ${can.lot}` : t('can not recorded');
    const other = el('a', { href: `#/cans/a/${weighing.known.code}` }, from);
    return [
      el('strong', {}, t('up to %(high)s is fine', { high: figure(fixed(high, scaleDecimals(scale))) })),
      other,
    ];
  }
  if (advice.component !== 'a' && advice.component !== 'b') return pasteLines(weighing, can);
  const proven = windowWords(weighing);
  return [el('strong', {}, proven), t('eyes covered'), ...hardenerWords(weighing)];
}

/** @param {Weighing} weighing */
function windowWords({ advice, scale }) {
  const { window } = advice;
  if (!window) return '';
  const step_g = scaleReadabilityG(scale);
  const write = (/** @type {[number, number]} */ pair) => {
    const [low, high] = pair.map((value) => figure(fixed(value, scaleDecimals(scale))));
    return { low, high };
  };
  const proven =
    window.proven_low_g !== null && window.proven_high_g !== null
      ? stepInside(window.proven_low_g, window.proven_high_g, step_g)
      : null;
  if (proven) return t('%(low)s – %(high)s proven in', write(proven));
  const accepted = stepInside(window.accept_low_g, window.accept_high_g, step_g);
  return accepted
    ? t('%(low)s – %(high)s in, unproven', write(accepted))
    : t('no step of this scale is in');
}

/** @param {Weighing} weighing */
export function scaleNotes(weighing) {
  const { advice, scale, known } = weighing;
  const notes = [...(hasTwin(known) ? [twinWords()] : []), ...leastTemperatureWords(weighing)];
  if (advice.cautions.includes('proves_in_part')) {
    const values = { code: scale.code, size: figure(atLeastG(advice.smallest_cup_g ?? 0)) };
    notes.push(
      advice.cautions.includes('display_step_only')
        ? t('Scale %(code)s proves this cup only in part (below %(size)s g), from the display step only.', values)
        : t('Scale %(code)s proves this cup only in part (below %(size)s g).', values),
    );
  }
  if (advice.cautions.includes('over_capacity')) {
    notes.push(t('The target is above what scale %(code)s can weigh. Do not pour: use another scale.', { code: scale.code }));
  }
  if (advice.cautions.includes('over_largest')) notes.push(overLargestWords(weighing));
  return [...notes, ...pasteNotes(weighing)].map((text) => warning(text));
}

/** @param {Weighing} weighing */
function overLargestWords({ cup, system, temperature_c }) {
  const largest_g = largestMixG(system, temperature_c);
  if (largest_g < system.largest_cup_g && temperature_c !== null && !(cup.part_a_g > 0)) {
    const values = { shop: figure(String(temperature_c)), largest: figure(String(largest_g)) };
    return t('At %(shop)s °C the largest cup of this system is %(largest)s g, and this one is larger. Heat builds up: plan smaller cups, see the data sheet.', values);
  }
  return cup.part_a_g > 0
    ? t('With its hardener this cup is above the largest for this system. Mix fully first, then divide at once.')
    : t('This cup is above the largest for this system. Heat builds up: plan smaller cups, see the data sheet.');
}
