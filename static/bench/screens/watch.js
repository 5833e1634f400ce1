/** What is left of a cup: weighed back, watched until cold and hard, and its disposal recorded. */
import { button, el } from '../parts/el.js';
import { clock, figure, t, tn } from '../words.js';
import { cupHeader, draw, warning } from './frame.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../types.js').Cup} Cup */

/**
 * Rows that keep what is left in view; a cup without hardener does not set, and is not watched.
 * @param {Cup} cup
 * @param {string} where
 * @returns {Draft[]}
 */
export function leftToSet(cup, where) {
  return cup.first_contact_at ? [{ kind: 'setting', note: where }] : [];
}

/** Places a rest may set in, in words. */
export function settingPlaces() {
  return [t('shallow open tray, in view'), t('in its cup, open, in view'), t('outdoors, on a surface that cannot burn')];
}

/** Where something cold and hard goes, in words. */
export function endPlaces() {
  return [t('waste, as local rules say'), t('with the building waste, fully cured')];
}

/** @param {Weighing} weighing */
export function watchStep(weighing) {
  const { known, cup } = weighing;
  const sample = cup.ending === 'sampled';
  const ends = sample
    ? [t('hard, kept as a sample'), t('stayed soft, kept as a sample')]
    : endPlaces();
  draw(
    'watch',
    cupHeader(known, 3),
    el('h1', {}, sample ? t('Look at the sample') : t('Keep it in view until it is cold and hard')),
    el('p', { class: 'under-figure' }, sinceWords(cup)),
    warmWords(cup),
    el('h2', {}, sample ? t('How is it?') : t('Cold and hard? Where does it go?')),
    el('div', { class: 'cards' }, ...ends.map((how) => button('card', how, () => weighing.keep([{ kind: 'disposed', note: how }])))),
    el(
      'div',
      { class: 'quiet-row' },
      cup.felt_warm ? null : button('quiet', t('Feels warm'), () => weighing.keep([{ kind: 'felt_warm' }])),
      el('a', { class: 'quiet', href: `#/strike/${known.code}` }, t('Undo')),
      el('a', { class: 'quiet', href: '#/' }, t('Next cups')),
    ),
  );
}

/** @param {Cup} cup */
function sinceWords(cup) {
  const minutes = Math.max(0, Math.floor((Date.now() - Date.parse(cup.set_at)) / 60000));
  const long = minutes < 120 ? tn('%(num)s minute', '%(num)s minutes', minutes) : tn('%(num)s hour', '%(num)s hours', Math.floor(minutes / 60));
  const mass = cup.leftover_g ? `${figure(String(cup.leftover_g))} g` : '';
  return [t('since %(time)s, %(long)s', { time: clock(cup.set_at), long }), mass, cup.set_where].filter(Boolean).join(' · ');
}

/** @param {Cup} cup */
function warmWords({ felt_warm: warm }) {
  return warm
    ? warning(t('It is warm: do not carry it by hand through the shop. If it is safe, move it to open air on a surface that cannot burn; keep away from the vapour, keep people away. Safety data sheet and fire plan decide.'))
    : warning(t('It may still heat up. A surface that cannot burn, small open amounts, no bin, no paper, no sawdust. See the safety data sheet and local rules.'));
}
