/** What every step of a lay-up sheet is judged by: the log, the cards, the warmth and the time. */
import { NO_LIMITS, tackLimits } from './lay-up-clocks.js';
import { NOTHING } from './lay-up-rows.js';
import { AHEAD_MS } from './lay-up-warmth.js';
import { formatUtc, parseUtc } from './times.js';

/** @typedef {import('../types.js').Happened} Happened */
/** @typedef {import('../types.js').Limits} Limits */
/** @typedef {import('../types.js').MouldReading} MouldReading */
/** @typedef {import('../types.js').SheetCards} SheetCards */
/** @typedef {import('../types.js').Step} Step */
/** @typedef {import('../types.js').StepState} StepState */
/**
 * What the states follow from.
 * @typedef {{happened: Record<string, Happened>, cards: SheetCards, now_ms: number,
 *   readings: MouldReading[]}} Bench
 */

/** Where a step stands. */
export const State = Object.freeze({
  LOCKED: /** @type {const} */ ('locked'),
  WAITING: /** @type {const} */ ('waiting'),
  READY: /** @type {const} */ ('ready'),
  RUNNING: /** @type {const} */ ('running'),
  DONE: /** @type {const} */ ('done'),
  LATE: /** @type {const} */ ('late'),
});

// A coat or ply lies within an hour of its start, whenever its end was tapped; common practice,
// no source.
const LAID_MS = 60 * 60 * 1000;
/** Steps that lay resin on, whose window counts from when it lay. */
const LAYERS = ['surface_coat', 'ply'];

/** @param {Bench} bench  @param {string} at */
export function isPast({ now_ms }, at) {
  return at !== '' && now_ms >= parseUtc(at);
}

/**
 * Whether a layer ended by a clock that is wrong: after the layer on it was begun.
 * @param {Bench} bench
 * @param {StepState} layer
 * @param {string} [at] start of the layer on it; empty for now
 */
export function isUnsure({ now_ms }, { done_at }, at = '') {
  return done_at !== '' && parseUtc(done_at) > (at ? parseUtc(at) : now_ms) + AHEAD_MS;
}

/**
 * Of several revisions the newest counts.
 * @template {{code: string, revision: number}} Card
 * @param {readonly Card[]} cards
 * @param {string} code
 * @returns {Card | null}
 */
export function newest(cards, code) {
  const fitting = cards.filter((card) => card.code === code);
  return fitting.sort((one, other) => other.revision - one.revision)[0] ?? null;
}

/**
 * The tack window of a coat or ply; no limits before it is done.
 * @param {Bench} bench
 * @param {StepState} below
 * @param {MouldReading[]} [readings] none for the sheet's own window, the widest there is
 */
export function windowOf(bench, below, readings = bench.readings) {
  if (!below.done_at) return NO_LIMITS;
  const system = newest(bench.cards.systems, below.step.system);
  return tackLimits(system, endedAt(below), laidAt(below), readings);
}

/**
 * End of a layer that is done: no start of another clock lies after it.
 * @param {StepState} layer
 */
export function endedAt({ started_at, done_at }) {
  return started_at && parseUtc(started_at) > parseUtc(done_at) ? started_at : done_at;
}

/**
 * When a layer that is done lay: at its end, and within an hour of its start.
 * @param {StepState} layer
 */
export function laidAt({ started_at, done_at }) {
  if (!started_at) return done_at;
  const latestMs = parseUtc(started_at) + LAID_MS;
  return latestMs < parseUtc(done_at) ? formatUtc(latestMs) : done_at;
}

/**
 * A step with what the log says of it; locked where it says neither begun nor done.
 * @param {Step} step
 * @param {Limits} limits
 * @param {Bench} bench
 * @returns {StepState}
 */
export function told(step, limits, bench) {
  const own = bench.happened[step.name] ?? NOTHING;
  const { started_at, done_at, person, notes } = own;
  const state = done_at ? State.DONE : started_at ? State.RUNNING : State.LOCKED;
  const row_id = own.done_id || (own.start_ids[0] ?? '');
  /** @type {StepState} */
  const bare = {
    step, state, reason: '', started_at, done_at, opens_at: '', closes_at: '', bond: '', person, notes,
    row_id, coldest_c: null, warmest_c: null, full_at: '',
  };
  const isLate = LAYERS.includes(step.kind) && done_at !== '' && laidAt(bare) !== done_at;
  return limited({ ...bare, reason: isLate ? 'done_late' : '' }, limits);
}

/**
 * A step with limits, and what they were counted at.
 * @param {StepState} state
 * @param {Limits} limits
 * @returns {StepState}
 */
export function limited(state, { opens_at, closes_at, coldest_c, warmest_c }) {
  return { ...state, opens_at, closes_at, coldest_c, warmest_c };
}

/**
 * Whether a step that was not begun may be begun now.
 * @param {StepState} state
 * @param {string} first  name of a step that comes first; empty if none does
 * @param {Limits} limits
 * @param {Bench} bench
 * @returns {StepState}
 */
export function gated(state, first, limits, bench) {
  if (state.state !== State.LOCKED) return state;
  if (first) return { ...state, reason: first };
  if (isPast(bench, limits.closes_at)) {
    return { ...state, state: State.LATE, reason: state.step.kind === 'tack' ? 'window_past' : 'too_old' };
  }
  if (limits.opens_at && !isPast(bench, limits.opens_at)) {
    return { ...state, state: State.WAITING, reason: 'clock' };
  }
  return { ...state, state: State.READY, reason: limits.missing ? 'not_on_card' : '' };
}

/**
 * A step on a layer whose end lies ahead of the clock: no time of it is to be relied on.
 * @param {StepState} state
 * @returns {StepState}
 */
export function unsure(state) {
  return { ...limited(state, NO_LIMITS), state: State.WAITING, reason: 'clock_unsure', bond: '' };
}

/** @param {StepState} state  after a missed window the plies follow, once prepared */
export function isPassed({ step, state }) {
  return state === State.DONE || (step.kind === 'tack' && state === State.LATE);
}

/** @param {StepState[]} found  @returns {string} name of the last step that is not passed yet */
export function unpassed(found) {
  return found.findLast((state) => !isPassed(state))?.step.name ?? '';
}

/** @param {StepState[]} found  @param {...string} kinds */
export function last(found, ...kinds) {
  return found.findLast((state) => kinds.includes(state.step.kind));
}

/** @param {string} at  @param {string} then */
export function isSince(at, then) {
  return at !== '' && parseUtc(at) >= parseUtc(then);
}
