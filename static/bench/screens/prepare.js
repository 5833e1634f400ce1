/** Preparing a surface whose window has closed: who did it, and with which grit. */
import { crew, shop } from '../cups.js';
import { el } from '../parts/el.js';
import { parseEntry } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { warning } from './frame.js';
import { act } from './step-acts.js';
import { preparationCaution, preparationWords } from './step-texts.js';

/** @typedef {import('./step-acts.js').At} At */

/** Grits sandpaper is sold in; common practice, no source. */
const [COARSEST, FINEST] = [16, 2500];
/** Those a laminate is dulled with, for a glove; the data sheet decides. Common practice, no source. */
const USUAL = ['80', '120', '180', '240'];

/**
 * @param {At} at
 * @returns {Node[]}
 */
export function preparation(at) {
  const people = shop()?.people ?? {};
  const known = (crew()?.person ?? '') in people;
  const person = el('select', { id: 'prepared-by' }, known ? null : el('option', { value: '' }, t('choose')));
  for (const [code, name] of Object.entries(people)) {
    person.append(el('option', { value: code, selected: code === crew()?.person }, [code, name].filter(Boolean).join(' · ')));
  }
  const grit = el('input', { 'aria-label': t('Grit'), class: 'text-field', type: 'text', inputmode: 'numeric', autocomplete: 'off', maxlength: '6' });
  const problem = el('p', { class: 'problem', role: 'alert' });
  const usual = USUAL.map((count) => el('button', { type: 'button', class: 'second', 'aria-pressed': 'false' }, figure(count)));
  const show = () => {
    problem.replaceChildren();
    for (const [index, key] of usual.entries()) key.setAttribute('aria-pressed', String(grit.value === USUAL[index]));
  };
  grit.addEventListener('input', show);
  for (const [index, key] of usual.entries()) {
    key.addEventListener('click', () => {
      grit.value = USUAL[index];
      show();
    });
  }
  return [
    ...preparationWords().map((text) => el('p', {}, text)),
    el('p', { class: 'setting' }, el('label', { for: 'prepared-by' }, t('Who prepared it')), person),
    el('fieldset', { class: 'choice grits' }, el('legend', {}, t('Grit')), ...usual, grit),
    problem,
    warning(preparationCaution()),
    el('div', { class: 'actions flowing' }, act('action', t('Washed, abraded, wiped'), at, () => {
      if (!person.value) {
        problem.textContent = t('Who prepared it: choose a person.');
        return [];
      }
      const found = gritOf(grit.value);
      problem.textContent = found ? '' : t('Grit “%(typed)s”: a whole number from %(low)s to %(high)s.', { typed: grit.value, low: COARSEST, high: FINEST });
      if (!found) grit.focus();
      const step = `prepare ${at.state.step.name}`;
      return found ? [{ kind: 'step_done', step, person: person.value, note: `grit ${found}, wash, abrade, wipe` }] : [];
    }, true)),
  ];
}

/**
 * @param {string} typed
 * @returns {string} digits; empty where it is no grit
 */
function gritOf(typed) {
  const { value, problem } = parseEntry(typed.trim());
  const count = Number(value);
  return !problem && Number.isInteger(count) && count >= COARSEST && count <= FINEST ? String(count) : '';
}
