/** Lay-up sheets: the list of jobs, the one whose next limit comes first on top, and one of them. */
import { el } from '../parts/el.js';
import { stateShape } from '../parts/state-shape.js';
import { knownSheets, sheetOf, stepOf } from '../sheets.js';
import { bondWords, stateWords, stepWords } from '../step-words.js';
import { figure, t } from '../words.js';
import { draw, plainHeader, stayingHere, warning } from './frame.js';

/** @typedef {import('../sheets.js').KnownSheet} KnownSheet */
/** @typedef {import('../types.js').StepState} StepState */

/** Steps whose clock warmth changes; that of a ply only where it bonds on the resin below. */
const TIMED = new Set(['tack', 'peel_ply', 'cure', 'demould']);
/** How often a list is drawn anew: its clocks show minutes. */
const ANEW_MS = 20000;

export function sheetsScreen() {
  const sheets = knownSheets();
  draw(
    'sheets',
    plainHeader(t('Lay-up sheets')),
    sheets.length ? null : el('p', { class: 'empty' }, t('No lay-up sheet is here. Describe a job with its plies in the office.')),
    el('ul', { class: 'cards' }, ...sheets.map((sheet) => el('li', {}, sheetCard(sheet)))),
  );
  later(sheetsScreen);
}

/** @param {KnownSheet} sheet */
function sheetCard(sheet) {
  const state = stepOf(sheet, sheet.current);
  return el(
    'a',
    { class: 'card', href: `#/sheet/${encodeURIComponent(sheet.job)}` },
    stateShape(state?.state ?? 'done'),
    el(
      'span',
      { class: 'card-lines' },
      el('strong', {}, sheet.part),
      el('span', {}, t('job %(job)s', { job: sheet.job })),
      el('span', { class: 'state' }, state ? lineWords(state) : t('all steps done')),
    ),
  );
}

/** @param {string} job */
export function sheetScreen(job) {
  const sheet = sheetOf(job);
  if (!sheet) return noSheet(job);
  const current = stepOf(sheet, sheet.current);
  draw(
    'sheet',
    plainHeader(sheet.part, 'sheets'),
    el('p', { class: 'under-figure' }, el('span', {}, t('job %(job)s', { job: sheet.job })), el('span', {}, temperatureWords(current))),
    current ? currentCard(sheet, current) : el('p', { class: 'big' }, t('all steps done')),
    el('ol', { class: 'sheet-steps' }, ...sheet.steps.map((state) => stepLine(sheet, state))),
  );
  later(() => sheetScreen(job));
}

/** @param {KnownSheet} sheet  @param {StepState} state */
function currentCard(sheet, state) {
  return el(
    'a',
    { class: 'card current-step', href: stepAddress(sheet, state) },
    stateShape(state.state),
    el('span', { class: 'card-lines' }, el('strong', {}, stepWords(state.step.name)), el('span', { class: 'state' }, stateWords(state))),
  );
}

/** @param {KnownSheet} sheet  @param {StepState} state */
function stepLine(sheet, state) {
  const isCurrent = state.step.name === sheet.current;
  const words = [stateWords(state), bondWords(state)].filter(Boolean).join(' · ');
  return el(
    'li',
    { class: `step-line step-${state.state}` },
    el(
      'a',
      { href: stepAddress(sheet, state), ...(isCurrent ? { 'aria-current': 'step' } : {}) },
      stateShape(state.state),
      el('span', { class: 'card-lines' }, el('strong', {}, stepWords(state.step.name)), el('span', {}, words)),
    ),
  );
}

/** @param {StepState} state */
function lineWords(state) {
  return t('%(step)s: %(state)s', { step: stepWords(state.step.name), state: stateWords(state) });
}

/**
 * What the clock of a step was counted at: the coldest for what opens, the warmest for what closes.
 * @param {StepState | null} state
 */
export function temperatureWords(state) {
  if (!state || state.state === 'done') return '';
  const known = [state.coldest_c, state.warmest_c].filter((one) => one !== null);
  const [low, high] = [Math.min(...known), Math.max(...known)].map((one) => figure(String(one)));
  if (known.length && low !== high) return t('times for %(low)s to %(high)s °C', { low, high });
  if (known.length) return t('times for %(temperature)s °C', { temperature: low });
  if (!state.opens_at && !state.closes_at) return '';
  return state.bond || TIMED.has(state.step.kind) ? t('not measured: times of the data sheet') : '';
}

/** @param {KnownSheet} sheet  @param {StepState} state */
export function stepAddress(sheet, { step }) {
  return `#/step/${encodeURIComponent(sheet.job)}/${encodeURIComponent(step.name)}`;
}

/** @param {string} job */
export function noSheet(job) {
  draw(
    'stopped',
    plainHeader(t('Lay-up sheets'), 'sheets'),
    warning(t('Job %(job)s has no lay-up sheet on this phone. Connect to the shop once.', { job })),
    el('div', { class: 'actions' }, el('a', { class: 'action', href: '#/sheets' }, t('Lay-up sheets'))),
  );
}

/**
 * Draw again after a while, if the person is still here.
 * @param {() => void} screen
 */
function later(screen) {
  const stillHere = stayingHere();
  const drawn = document.querySelector('#screen > *');
  setTimeout(() => {
    if (stillHere() && drawn?.isConnected) screen();
  }, ANEW_MS);
}
