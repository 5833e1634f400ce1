/** Steps of a lay-up sheet in words. What stands in the log is the same in every language. */
import { clock, figure, shortDay, t } from './words.js';

/** @typedef {import('./types.js').StepState} StepState */

const NUMBERED = /^(release|ply|prepare ply) ([1-9][0-9]{0,3})$/;
const GRIT = /^grit ([0-9]+), wash, abrade, wipe$/;

/**
 * A step by its name in the log; a text somebody typed stays as it is.
 * @param {string} name
 * @returns {string}
 */
export function stepWords(name) {
  const [, word = '', number = ''] = NUMBERED.exec(name) ?? [];
  /** @type {Record<string, () => string>} */
  const numbered = {
    release: () => t('release coat %(number)s', { number: figure(number) }),
    ply: () => t('ply %(number)s', { number: figure(number) }),
    'prepare ply': () => t('preparation for ply %(number)s', { number: figure(number) }),
  };
  /** @type {Record<string, string>} */
  const plain = {
    mould: t('mould check'),
    'surface coat': t('surface coat'),
    tack: t('finger test'),
    'peel ply': t('peel ply'),
    trim: t('trim'),
    cure: t('cure'),
    demould: t('demould'),
  };
  return numbered[word]?.() ?? plain[name] ?? name;
}

/**
 * A moment: the time of day, with the day where it is not today.
 * @param {string} utc  RFC 3339
 */
export function momentWords(utc) {
  const isToday = new Date(utc).toDateString() === new Date().toDateString();
  return isToday ? clock(utc) : t('%(day)s, %(time)s', { day: shortDay(utc), time: clock(utc) });
}

/**
 * How long until a moment, or since it: minutes and seconds, above an hour hours and minutes.
 * @param {string} utc  RFC 3339
 */
export function spanWords(utc) {
  const seconds = Math.abs(Math.round((Date.parse(utc) - Date.now()) / 1000));
  const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
  const two = (/** @type {number} */ count) => String(count).padStart(2, '0');
  if (hours) return t('%(hours)s h %(minutes)s min', { hours: figure(String(hours)), minutes: two(minutes) });
  return `${minutes}:${two(seconds % 60)}`;
}

/**
 * Where a step stands, in a few words.
 * @param {StepState} state
 * @returns {string}
 */
export function stateWords(state) {
  switch (state.state) {
    case 'done':
      return t('done %(time)s', { time: momentWords(state.done_at) });
    case 'running':
      return runningWords(state);
    case 'waiting':
      return waitingWords(state);
    case 'ready':
      return readyWords(state);
    case 'late':
      return lateWords(state.reason);
    default:
      return t('first: %(step)s', { step: stepWords(state.reason) });
  }
}

/** @param {StepState} state */
function runningWords({ step, opens_at, started_at }) {
  if (step.kind === 'cure' && opens_at) return t('cures until %(time)s', { time: momentWords(opens_at) });
  return t('in work since %(time)s', { time: momentWords(started_at) });
}

/** @param {StepState} state */
function waitingWords({ reason, opens_at }) {
  if (reason === 'clock_unsure') return t('a clock is ahead');
  if (reason === 'no_window') return t('closes before it opens');
  return t('wait until %(time)s', { time: momentWords(opens_at) });
}

/** @param {StepState} state */
function readyWords({ step, bond, closes_at }) {
  if (bond === 'secondary') return t('prepared, may begin');
  if (!closes_at) return t('may begin');
  const time = momentWords(closes_at);
  return step.kind === 'tack' ? t('test now, until %(time)s', { time }) : t('may begin, until %(time)s', { time });
}

/** @param {string} reason */
function lateWords(reason) {
  /** @type {Record<string, string>} */
  const words = {
    too_old: t('too old: coat again or tape test'),
    too_late: t('too late: prepare the surface'),
    window_past: t('the window has closed'),
    secondary_bond: t('prepare the surface first'),
    not_wet: t('the resin below has set'),
  };
  return words[reason] ?? reason;
}

/**
 * How a ply bonds; empty where nothing says which, or it is still to be prepared.
 * @param {StepState} state
 */
export function bondWords({ bond, reason }) {
  if (bond === 'primary') return t('bonds by itself');
  if (reason === 'not_prepared') return t('no preparation recorded');
  return bond === 'secondary' && reason !== 'secondary_bond' ? t('on a prepared surface') : '';
}

/**
 * What was written at a step; what the app wrote itself is put into words.
 * @param {string} note
 */
export function noteWords(note) {
  const [, grit = ''] = GRIT.exec(note) ?? [];
  /** @type {Record<string, string>} */
  const words = { 'sample hard': t('the sample is hard'), 'sample soft': t('the sample is still soft'), 'tape test slides': t('the tape slides off'), 'left out': t('left out') };
  return grit ? t('grit %(grit)s: washed, abraded, wiped', { grit: figure(grit) }) : (words[note] ?? note);
}
