/** One step of a lay-up sheet: what to do, its clock, its cups, and the one or two things to tap. */
import { shop } from '../cups.js';
import { el } from '../parts/el.js';
import { stateShape } from '../parts/state-shape.js';
import { cupsFor, lastRowOf, sheetOf, stepOf } from '../sheets.js';
import { bondWords, momentWords, noteWords, spanWords, stateWords, stepWords } from '../step-words.js';
import { SAMPLE_HARD } from '../trade/lay-up-rows.js';
import { t } from '../words.js';
import { cupCard } from './cup-card.js';
import { draw, plainHeader, stayingHere, warning } from './frame.js';
import { preparation } from './prepare.js';
import { noSheet, stepAddress, temperatureWords } from './sheets.js';
import { act, against, started, takenBack } from './step-acts.js';
import { cautionWords, reasonWords, taskWords } from './step-texts.js';

/** @typedef {import('./step-acts.js').At} At */
/** @typedef {import('../sheets.js').KnownSheet} KnownSheet */
/** @typedef {import('../types.js').StepState} StepState */

/** Steps that take a while, so that their beginning counts. */
const LONG = new Set(['surface_coat', 'ply']);

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
  const ticking = el('strong', { class: 'span' });
  const line = limit ? el('p', { class: 'clock' }, el('span', {}, limit.words), ticking) : null;
  const tick = () => {
    if (!limit || !(ticking.isConnected || !ticking.textContent)) return;
    // What opens or closes now changes what may be done.
    if (ticking.textContent && Date.parse(limit.at) <= Date.now() && !limit.over) return again();
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
 * @returns {{words: string, at: string, over: boolean} | null}
 */
function limitOf({ step, state, opens_at, closes_at }) {
  const isCure = step.kind === 'cure' && state === 'running';
  if ((state === 'waiting' || isCure) && opens_at) return { words: t('still'), at: opens_at, over: false };
  if (state === 'ready' && closes_at) return { words: t('closes in'), at: closes_at, over: false };
  return state === 'late' && closes_at ? { words: t('closed for'), at: closes_at, over: true } : null;
}

/** @param {At} at @returns {(Node | null)[]} */
function body(at) {
  const { sheet, state } = at;
  const { step } = state;
  const { own, others } = LONG.has(step.kind) ? cupsFor(sheet.job, step.name) : { own: [], others: [] };
  const reason = reasonWords(state);
  return [
    el('p', { class: 'task' }, taskWords(step)),
    windowWords(state),
    reason ? el('p', { class: 'reason' }, reason) : null,
    cups(t('Cups of this step'), own),
    cups(t('Mixed for this job'), others),
    ...state.notes.map((note) => el('p', { class: 'note' }, noteWords(note))),
    state.person ? el('p', { class: 'who' }, t('by %(person)s', { person: personWords(state.person) })) : null,
    warning(cautionWords(step)),
    el('div', { class: 'actions' }, ...actions(at).filter((one) => one !== null)),
  ];
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

/** @param {At} at @returns {(Node | null)[]} */
function actions(at) {
  const { sheet, state } = at;
  if (state.state === 'locked') {
    const first = stepOf(sheet, state.reason);
    return [first ? el('a', { class: 'action', href: stepAddress(sheet, first) }, t('First: %(step)s', { step: stepWords(first.step.name) })) : null];
  }
  if (state.state === 'done') return [onwards(sheet), clockOnly(state) ? null : takeBack(at)];
  if (state.step.kind === 'tack') return tests(at);
  if (state.step.kind === 'demould') return demould(at);
  if (state.step.kind === 'cure') {
    return [state.reason === 'not_on_card' ? act('action', t('Cured as the data sheet says'), at, () => [{ kind: 'step_done' }]) : null];
  }
  if (state.state === 'running') return [done(at, 'action'), takeBack(at)];
  if (state.state === 'waiting') return [act('second', t('Begin before its time'), at, () => against(at, () => started(at)))];
  if (state.state === 'late') return tooOld(at);
  const start = act(LONG.has(state.step.kind) ? 'action' : 'second', t('Start'), at, () => started(at));
  return LONG.has(state.step.kind) ? [start] : [done(at, 'action'), start];
}

/** A cure that ended by the clock has no row to strike. @param {StepState} state */
function clockOnly({ step }) {
  return step.kind === 'cure';
}

/** @param {At} at  @param {string} name */
function done(at, name) {
  return act(name, t('Done'), at, () => [{ kind: 'step_done' }]);
}

/** @param {At} at */
function takeBack(at) {
  if (!lastRowOf(at.sheet, at.state.step.name)) return null;
  return el('div', { class: 'quiet-row' }, act('quiet', t('Take it back'), at, () => takenBack(at)));
}

/** @param {KnownSheet} sheet */
function onwards(sheet) {
  const next = stepOf(sheet, sheet.current);
  return next ? el('a', { class: 'action', href: stepAddress(sheet, next) }, t('Next: %(step)s', { step: stepWords(next.step.name) })) : null;
}

/** The finger test: three answers, as large as can be. @param {At} at */
function tests(at) {
  const tested = (/** @type {string} */ note) => () => [{ kind: 'tack_tested', note }];
  const passed = at.state.state === 'late' ? onwards(at.sheet) : null;
  if (passed) return [passed, takeBack(at)];
  return [
    act('action', t('Print stays, finger clean'), at, tested('ready')),
    act('second', t('Sticks to the finger: not yet'), at, tested('not_yet')),
    act('second', t('No print any more: too late'), at, tested('too_late')),
  ];
}

/** @param {At} at */
function demould(at) {
  const out = () => [{ kind: 'step_done', note: SAMPLE_HARD }];
  if (at.state.state === 'waiting') {
    return [act('second', t('Sample is hard: demould before its time'), at, () => against(at, out))];
  }
  return [
    act('action', t('Sample is hard, part is out'), at, out),
    act('second', t('Sample is still soft'), at, () => [{ kind: 'note', note: 'sample soft' }]),
  ];
}

/** @param {At} at */
function tooOld(at) {
  const before = at.sheet.steps.findLast(({ step, done_at }) => step.kind === 'release' && done_at);
  const coat = before?.step.name ?? '';
  return [
    act('action', t('Coat again'), at, () => [{ kind: 'step_started', step: coat, note: '' }]),
    act('second', t('Tape test: it slides off'), at, () => started(at, 'tape test slides')),
  ];
}
