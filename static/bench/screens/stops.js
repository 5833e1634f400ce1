/** Where weighing does not go on: another scale, an unknown cup, a closed one. */
import { el } from '../parts/el.js';
import { stopShape } from '../parts/stop-shape.js';
import { atLeastG } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { cupHeader, draw } from './frame.js';
import { display } from './target-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/** @param {Weighing} weighing */
export function otherScaleStep(weighing) {
  const { known, scale, advice, cup } = weighing;
  if (advice.reason === 'over_capacity') return overCapacityStep(weighing);
  const smallest = figure(atLeastG(advice.smallest_cup_g ?? 0));
  const planned = display(cup.planned_total_g ?? 0, weighing);
  draw(
    'weigh stopped',
    cupHeader(known, 0),
    el('div', { class: 'stop-head' }, stopShape(), el('h1', {}, t('Not on this scale'))),
    el('p', {}, t('Scale %(code)s shows steps of %(step)s g: rounding alone can spoil a cup of %(planned)s g.', { code: scale.code, step: figure(scale.readability), planned: figure(planned) })),
    el('p', { class: 'big' }, t('Smallest cup on this scale: %(smallest)s g', { smallest })),
    el('p', {}, scale.repeatability_g === null ? t('From the display step only; no repeatability is on record.') : ''),
    el('div', { class: 'actions' },
      el('a', { class: 'action', href: `#/crew/weigh/${known.code}` }, t('Use another scale')),
      el('a', { class: 'second', href: '#/start' }, t('Start a larger cup')),
      el('a', { class: 'second', href: '#/' }, t('Next cups'))),
  );
}

/** @param {Weighing} weighing */
function overCapacityStep({ known, scale, cup }) {
  const planned = figure(String(cup.planned_total_g ?? 0));
  const capacity = figure(String(scale.capacity_g));
  draw(
    'weigh stopped',
    cupHeader(known, 0),
    el('div', { class: 'stop-head' }, stopShape(), el('h1', {}, t('Not on this scale'))),
    el('p', { class: 'big' }, t('Cup and %(planned)s g of mix are more than scale %(code)s can weigh, %(capacity)s g.', { planned, code: scale.code, capacity })),
    el('div', { class: 'actions' },
      known.rows.length
        ? el('a', { class: 'action', href: `#/scrap/${known.code}` }, t('Scrap'))
        : el('a', { class: 'action', href: `#/crew/weigh/${known.code}` }, t('Use another scale')),
      el('a', { class: 'second', href: '#/' }, t('Next cups'))),
  );
}

/** @param {string} code */
export function notKnownStep(code) {
  draw(
    'stopped',
    el('div', { class: 'stop-head' }, stopShape(), el('h1', {}, t('Not known here'))),
    el('p', {}, t('Cup %(code)s or its system is not on this phone. Pour no hardener into it from here until its rows have arrived.', { code })),
    el('div', { class: 'actions' }, el('a', { class: 'action', href: '#/' }, t('Next cups'))),
  );
}

/** @param {string} text  what stands where a code should be */
export function noCodeStep(text) {
  draw(
    'stopped',
    el('div', { class: 'stop-head' }, stopShape(), el('h1', {}, t('Not a code'))),
    el('p', {}, t('The check of “%(typed)s” does not fit. Look again at the label.', { typed: text })),
    el('div', { class: 'actions' },
      el('a', { class: 'action', href: '#/scan' }, t('Scan a label')),
      el('a', { class: 'second', href: '#/type' }, t('Type the code'))),
  );
}

/** Something in the app itself went wrong; the log is safe and can be had. */
export function faultScreen() {
  draw(
    'stopped',
    el('div', { class: 'stop-head' }, stopShape(), el('h1', {}, t('Something went wrong'))),
    el('p', {}, t('The log of this phone is safe. Go back and look at the cup again.')),
    el(
      'div',
      { class: 'actions' },
      el('a', { class: 'action', href: '/bench/' }, t('Start again')),
      el('a', { class: 'second', href: '/rescue' }, t('Rescue page')),
    ),
  );
}

/** @param {Weighing} weighing */
export function closedStep(weighing) {
  location.replace(`#/story/${weighing.known.code}`);
}
