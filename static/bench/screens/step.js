/** One step of a lay-up sheet: what to do, its clock, its cups, and the one or two things to tap. */
import { shop } from '../cups.js';
import { el } from '../parts/el.js';
import { stateShape } from '../parts/state-shape.js';
import { LAID_ON, cupsFor, sheetOf, stepOf } from '../sheets.js';
import { bondWords, momentWords, noteWords, spanWords, stateWords, stepWords } from '../step-words.js';
import { t } from '../words.js';
import { cupCard } from './cup-card.js';
import { draw, plainHeader, stayingHere, warning } from './frame.js';
import { preparation } from './prepare.js';
import { noSheet, temperatureWords } from './sheets.js';
import { actions } from './step-buttons.js';
import { cautionWords, reasonWords, taskWords } from './step-texts.js';

/** @typedef {import('./step-acts.js').At} At */
/** @typedef {import('../sheets.js').KnownSheet} KnownSheet */
/** @typedef {import('../types.js').StepState} StepState */

/**
 * @param {string} job
 * @param {string} name  of the step, as in the log
 */
export function stepScreen(job, name) {
  const sheet = sheetOf(job);
  const state = sheet && stepOf(sheet, name);
  if (!sheet || !state) return noSheet(job);
  const stillHere = stayingHere();
  const at = { sheet, state, again: () => stillHere() && stepScreen(job, name) };
  const isPreparing = state.reason === 'secondary_bond' && state.state === 'late';
  draw(
    'step',
    plainHeader(stepWords(name), `sheet/${encodeURIComponent(sheet.job)}`),
    el('p', { class: 'under-figure' }, el('span', {}, sheet.part), el('span', {}, temperatureWords(state))),
    standing(at),
    ...(isPreparing ? preparation(at) : body(at)),
  );
}

/**
 * Where it stands, with a shape, and its clock that ticks.
 * @param {At} at
 */
function standing({ state, again }) {
  const limit = limitOf(state);
  const wasAhead = limit !== null && Date.parse(limit.at) > Date.now();
  const ticking = el('strong', { class: 'span' });
  const line = limit ? el('p', { class: 'clock' }, el('span', {}, limit.words), ticking) : null;
  const tick = () => {
    if (!limit || !(ticking.isConnected || !ticking.textContent)) return;
    // What opens or closes now changes what may be done; what had passed before changes nothing.
    if (wasAhead && Date.parse(limit.at) <= Date.now()) return again();
    ticking.textContent = spanWords(limit.at);
    setTimeout(tick, 1000);
  };
  tick();
  const bond = bondWords(state);
  return el(
    'section',
    { class: `standing standing-${state.state}`, role: 'status' },
    stateShape(state.state),
    el('div', {}, el('h2', {}, stateWords(state)), bond ? el('p', {}, bond) : null, line),
  );
}

/**
 * @param {StepState} state
 * @returns {{words: string, at: string} | null}
 */
function limitOf({ step, state, reason, opens_at, closes_at }) {
  const isCure = step.kind === 'cure' && state === 'running';
  const isOpen = state === 'ready' || reason === 'no_window';
  if (isOpen && closes_at) return { words: t('closes in'), at: closes_at };
  if ((state === 'waiting' || isCure) && opens_at) return { words: t('still'), at: opens_at };
  return state === 'late' && closes_at ? { words: t('closed for'), at: closes_at } : null;
}

/** @param {At} at @returns {(Node | null)[]} */
function body(at) {
  const { sheet, state } = at;
  const { step } = state;
  const { own, others } = LAID_ON.has(step.kind) ? cupsFor(sheet.job, step.name) : { own: [], others: [] };
  const reason = reasonWords(state);
  return [
    el('p', { class: 'task' }, taskWords(step)),
    windowWords(state),
    reason ? el('p', { class: 'reason' }, reason) : null,
    cups(t('Cups of this step'), own),
    cups(t('Mixed for this job'), others),
    ...state.notes.map((note) => el('p', { class: 'note' }, noteWords(note))),
    state.person ? el('p', { class: 'who' }, t('by %(person)s', { person: personWords(state.person) })) : null,
    fullCure(state),
    warning(cautionWords(step)),
    el('div', { class: 'actions' }, ...actions(at).filter((one) => one !== null)),
  ];
}

/** From when the part may be cut and sanded; beside the caution about it. @param {StepState} state */
function fullCure({ step, state, full_at }) {
  if (step.kind !== 'demould' || state === 'locked') return null;
  const words = full_at
    ? t('Fully cured from %(time)s.', { time: momentWords(full_at) })
    : t('Full cure: not on the card, see the data sheet.');
  return el('p', { class: 'reason' }, words);
}

/** @param {StepState} state */
function windowWords({ opens_at, closes_at, state }) {
  if (state === 'done' || state === 'running' || !(opens_at && closes_at)) return null;
  return el('p', { class: 'window' }, t('opens %(opens)s, closes %(closes)s', { opens: momentWords(opens_at), closes: momentWords(closes_at) }));
}

/** @param {string} code */
function personWords(code) {
  return [code, shop()?.people[code]].filter(Boolean).join(' · ');
}

/** @param {string} title  @param {import('../shapes.js').KnownCup[]} found */
function cups(title, found) {
  if (found.length === 0) return null;
  const cards = found.map((known) => el('li', {}, el('a', { class: 'card', href: `#/weigh/${known.code}` }, ...cupCard(known))));
  return el('section', {}, el('h2', {}, title), el('ul', { class: 'cards' }, ...cards));
}
