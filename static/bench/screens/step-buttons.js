/** The one or two things to tap at a step of the lay-up sheet. */
import { el } from '../parts/el.js';
import { LAID_ON, lastRowOf, stepOf } from '../sheets.js';
import { stepWords } from '../step-words.js';
import { LEFT_OUT, SAMPLE_HARD } from '../trade/lay-up-rows.js';
import { t } from '../words.js';
import { stepAddress } from './sheets.js';
import { act, against, ended, started, takenBack } from './step-acts.js';

/** @typedef {import('./step-acts.js').At} At */
/** @typedef {import('../sheets.js').KnownSheet} KnownSheet */
/** @typedef {import('../types.js').StepState} StepState */

/** @param {At} at @returns {(Node | null)[]} */
export function actions(at) {
  const { sheet, state } = at;
  if (state.state === 'locked') {
    const first = stepOf(sheet, state.reason);
    return [first ? el('a', { class: 'action', href: stepAddress(sheet, first) }, t('First: %(step)s', { step: stepWords(first.step.name) })) : null];
  }
  if (state.reason === 'clock_unsure') return clockUnsure(at);
  if (state.state === 'done') return [onwards(sheet), clockOnly(state) ? null : takeBack(at)];
  if (state.step.kind === 'tack') return tests(at);
  if (state.step.kind === 'demould') return demould(at);
  if (state.step.kind === 'cure') {
    return [state.reason === 'not_on_card' ? act('action', t('Cured as the data sheet says'), at, () => [{ kind: 'step_done' }]) : null];
  }
  if (state.state === 'running') return [done(at, 'action'), takeBack(at)];
  if (state.state === 'waiting') return [act('second', t('Begin before its time'), at, () => against(at, () => started(at)))];
  if (state.reason === 'not_wet') return notWet(at);
  if (state.state === 'late') return tooOld(at);
  const start = act(LAID_ON.has(state.step.kind) ? 'action' : 'second', t('Start'), at, () => started(at));
  if (!LAID_ON.has(state.step.kind)) return [done(at, 'action'), start];
  return [start, state.bond === 'secondary' ? takeBack(at, `prepare ${state.step.name}`) : null];
}

/** A cure that ended by the clock has no row to strike. @param {StepState} state */
function clockOnly({ step }) {
  return step.kind === 'cure';
}

/** @param {At} at  @param {string} name */
function done(at, name) {
  return act(name, t('Done'), at, () => [ended(at)]);
}

/** @param {At} at  @param {string} [name]  of the step whose last row is struck */
function takeBack(at, name = at.state.step.name) {
  if (!lastRowOf(at.sheet, name)) return null;
  return el('div', { class: 'quiet-row' }, act('quiet', t('Take it back'), at, () => takenBack(at, name)));
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
    act('action', t('Coat again'), at, () => [{ kind: 'step_started', step: coat, note: '', refers_to: before?.row_id ?? '' }]),
    act('second', t('Tape test: it slides off'), at, () => started(at, 'tape test slides')),
  ];
}

/** The layer below ended by a clock that is ahead: its end is looked at first. @param {At} at */
function clockUnsure(at) {
  const { steps } = at.sheet;
  const here = steps.indexOf(at.state);
  const layer = steps.slice(0, here).findLast(({ step }) => LAID_ON.has(step.kind));
  const look = layer ? el('a', { class: 'action', href: stepAddress(at.sheet, layer) }, t('Look at: %(step)s', { step: stepWords(layer.step.name) })) : null;
  // A finger test from before the end of the coat would count for nothing.
  if (at.state.step.kind === 'tack') return [look];
  return [look, act('second', t('Begin for a written reason'), at, () => against(at, () => started(at)))];
}

/** The resin a peel ply is to be wetted out by has set. @param {At} at */
function notWet(at) {
  return [
    act('action', t('Leave the peel ply out'), at, () => [{ kind: 'step_done', note: LEFT_OUT }]),
    act('second', t('Begin for a written reason'), at, () => against(at, () => started(at))),
  ];
}
