/** Measuring air and mould: three figures, one after the other, kept together. */
import { el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { ask } from '../parts/notice.js';
import { checkClimate } from '../trade/climate-reading.js';
import { figure, t } from '../words.js';
import { climateProblemWords } from './air-words.js';
import { draw, goInstead, plainHeader, stayingHere } from './frame.js';
import { keepOfShop } from './keep.js';

/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {'air' | 'humidity' | 'mould'} Component */

/** @type {readonly Component[]} */
const ORDER = ['air', 'humidity', 'mould'];

/**
 * Ask for one figure; the last one keeps all three.
 * @param {Draft[]} [taken]  what has been read so far
 */
export function measureScreen(taken = []) {
  const component = ORDER[taken.length];
  const { title, hint, label, unit } = wordsOf(component);
  const problem = el('p', { class: 'problem', role: 'alert' });
  draw(
    'measure',
    plainHeader(t('Air and mould'), 'air'),
    el('h1', { class: 'instruction' }, title),
    el('p', {}, hint),
    el('p', { class: 'under-figure' }, ...taken.map((draft) => el('span', {}, takenWords(draft)))),
    problem,
    keypad({
      label,
      extra: taken.length ? { text: t('Back'), act: () => measureScreen(taken.slice(0, -1)) } : null,
      onchange: () => {
        problem.textContent = '';
      },
      onread: async (typed) => {
        const value = await checked(component, typed, problem);
        if (value) await goOn([...taken, { kind: 'climate', component, value, typed, unit }]);
      },
    }),
  );
}

/** @param {Draft[]} taken */
async function goOn(taken) {
  if (taken.length < ORDER.length) return measureScreen(taken);
  const stillHere = stayingHere();
  if ((await keepOfShop(taken)) && stillHere()) goInstead('air');
}

/** @param {Draft} draft */
function takenWords({ component = '', value = '' }) {
  return component === 'air'
    ? t('Air %(value)s', { value: `${figure(value)} °C` })
    : t('Humidity %(value)s', { value: `${figure(value)} %` });
}

/** @param {Component} component */
function wordsOf(component) {
  return {
    air: { title: t('How warm is the air?'), hint: t('In the shade, near the mould, after a few minutes.'), label: t('air, °C'), unit: 'Cel' },
    humidity: { title: t('How humid is the air?'), hint: t('Relative humidity, in per cent: 54, not 0.54.'), label: t('humidity, %'), unit: '%' },
    mould: { title: t('How warm is the mould?'), hint: t('Measured on the mould, at its coldest place. Not the air.'), label: t('mould, °C'), unit: 'Cel' },
  }[component];
}

/**
 * A typed figure, checked and where needed asked about.
 * @param {Component} component
 * @param {string} typed
 * @param {HTMLElement} problem
 * @returns {Promise<string>} the value to record; empty where it is not taken
 */
async function checked(component, typed, problem) {
  let check = checkClimate(component, typed);
  if (check.ask) {
    const { value: meant } = await ask({
      title: climateProblemWords(check, component, typed),
      answers: [
        { text: t('No, type again'), value: false, main: true },
        { text: t('Yes, %(proposal)s', { proposal: `${figure(check.proposal)} %` }), value: true },
      ],
    });
    if (!meant) return '';
    check = checkClimate(component, typed, true);
  }
  problem.textContent = check.problem ? climateProblemWords(check, component, typed) : '';
  return check.value;
}
