/** Measuring air and mould: three figures, one after the other, each kept as soon as it is typed. */
import { el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { ask } from '../parts/notice.js';
import { checkClimate } from '../trade/climate-reading.js';
import { figure, t } from '../words.js';
import { climateProblemWords } from './air-words.js';
import { draw, goInstead, plainHeader, stayingHere } from './frame.js';
import { keepOfShop } from './keep.js';

/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../types.js').Row} Row */
/** @typedef {'air' | 'humidity' | 'mould'} Component */

/** @type {readonly Component[]} */
const ORDER = ['air', 'humidity', 'mould'];

/** What stands in the row that strikes a figure which is typed again. */
const AGAIN = 'read again';

/**
 * Ask for one figure.
 * @param {Row[]} [kept]  what is on disk; a figure gone back to stands until another one is typed
 * @param {number} [place]  which figure is asked for, from 0
 */
export function measureScreen(kept = [], place = 0) {
  const component = ORDER[place];
  const { title, hint, label, unit } = wordsOf(component);
  const problem = el('p', { class: 'problem', role: 'alert' });
  draw(
    'measure',
    plainHeader(t('Air and mould'), 'air'),
    el('h1', { class: 'instruction' }, title),
    el('p', {}, hint),
    el('p', { class: 'under-figure' }, ...kept.slice(0, place).map((row) => el('span', {}, takenWords(row)))),
    problem,
    keypad({
      label,
      extra: place ? { text: t('Back'), act: () => measureScreen(kept, place - 1) } : null,
      onchange: () => {
        problem.textContent = '';
      },
      onread: async (typed) => {
        const value = await checked(component, typed, problem);
        if (value) await goOn(kept, place, { kind: 'climate', component, value, typed, unit });
      },
    }),
  );
}

/**
 * Keep a figure at once, so that a phone that dies has lost none; then ask for the next.
 * @param {Row[]} kept
 * @param {number} place
 * @param {Draft} draft
 */
async function goOn(kept, place, draft) {
  const stillHere = stayingHere();
  const before = kept.at(place);
  const strike = before ? [{ kind: 'voided', refers_to: before.event_id, note: AGAIN }] : [];
  const row = (await keepOfShop([...strike, draft])).at(-1);
  if (!row || !stillHere()) return;
  if (place + 1 < ORDER.length) measureScreen([...kept.slice(0, place), row, ...kept.slice(place + 1)], place + 1);
  else goInstead('air');
}

/** @param {Row} row */
function takenWords({ component, value }) {
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
