/**
 * The lay-up sheet as it stands: what is done, what runs, what waits for a clock, what is late.
 *
 * Folded from the rows of one job and the readings of mould and air. The order of the steps is the
 * order of the work: a step stays locked until the one before is done. A layer bonds by itself
 * (primary) while the one below is in its tack window; afterwards it has to be prepared first, and
 * the record of that stands in a row of a step of its own, `prepare ply 2`. What a screen said when
 * a ply began (`shown`) stays said: warmth measured later does not rewrite it.
 */
import { State, endedAt, gated, isPassed, isPast, isSince, isUnsure } from './lay-up-bench.js';
import { last, limited, newest, told, unpassed, unsure, windowOf } from './lay-up-bench.js';
import { NO_LIMITS, cureLimits, fullCureAt, releaseLimits } from './lay-up-clocks.js';
import { LEFT_OUT, NOTHING, happened } from './lay-up-rows.js';
import { temperatures } from './lay-up-warmth.js';
import { parseUtc } from './times.js';

/** @typedef {import('./lay-up-bench.js').Bench} Bench */
/** @typedef {import('../types.js').Limits} Limits */
/** @typedef {import('../types.js').Sheet} Sheet */
/** @typedef {import('../types.js').SheetCards} SheetCards */
/** @typedef {import('../types.js').Step} Step */
/** @typedef {import('../types.js').StepState} StepState */

export { State };

/** How a layer holds on the one below: by itself, or because it was prepared. */
export const Bond = Object.freeze({
  PRIMARY: /** @type {const} */ ('primary'),
  SECONDARY: /** @type {const} */ ('secondary'),
});

/** @type {Record<string, (step: Step, found: StepState[], bench: Bench) => StepState>} */
const STATES = {
  tack: tackState, ply: plyState, peel_ply: peelPlyState, cure: cureState, demould: demouldState,
};

/**
 * How far a lay-up sheet is.
 * @param {readonly Step[]} steps
 * @param {Iterable<import('../types.js').Row>} rows of one job, and `climate` rows of the shop; other
 *   kinds are passed over; where nothing was measured the times of the sheets hold as they are
 * @param {SheetCards} cards
 * @param {string} nowUtc RFC 3339
 * @returns {Sheet}
 */
export function foldSheet(steps, rows, cards, nowUtc) {
  const every = [...rows];
  const readings = temperatures(every, nowUtc);
  const bench = { happened: happened(every), cards, now_ms: parseUtc(nowUtc), readings };
  /** @type {StepState[]} */
  const found = [];
  for (const step of steps) found.push((STATES[step.kind] ?? plainState)(step, found, bench));
  const end = found.at(-1);
  if (!end || end.state === State.DONE) return { steps: found, current: '', limit_at: '' };
  const waiting = found.filter((state) => !isPassed(state));
  return { steps: found, current: waiting[0].step.name, limit_at: nextLimit(waiting) };
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function plainState(step, found, bench) {
  const before = found.at(-1);
  const isReleased = before?.step.kind === 'release' && before.done_at;
  const agent = isReleased ? newest(bench.cards.release_agents, before.step.release_agent) : null;
  const limits = isReleased
    ? releaseLimits(agent, step.kind !== 'release', before.done_at)
    : NO_LIMITS;
  return gated(told(step, limits, bench), unpassed(found), limits, bench);
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function tackState(step, found, bench) {
  const coat = found[found.length - 1];
  const limits = windowOf(bench, coat);
  const own = bench.happened[step.name] ?? NOTHING;
  const state = told(step, limits, bench);
  if (unpassed(found)) return { ...state, reason: unpassed(found) };
  const tested = isSince(own.tested_at, coat.done_at) ? own.tested : '';
  if (tested === 'ready') return { ...state, state: State.DONE, done_at: own.tested_at };
  if (tested === 'too_late') {
    const closes_at = earlier(limits.closes_at, own.tested_at);
    return { ...state, state: State.LATE, reason: 'too_late', closes_at };
  }
  if (isUnsure(bench, coat)) return unsure(state);
  const clocked = gated(state, '', limits, bench);
  if (tested === 'not_yet' && clocked.state !== State.LATE) return { ...clocked, reason: 'not_yet' };
  const isEmpty = clocked.state === State.WAITING && isSince(limits.opens_at, limits.closes_at);
  return isEmpty ? { ...clocked, reason: 'no_window' } : clocked;
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function plyState(step, found, bench) {
  const below = last(found, 'surface_coat', 'ply');
  if (!below) return plainState(step, found, bench);
  const limits = plyLimits(below, found, bench);
  const bare = told(step, limits, bench);
  const prepared = bench.happened[`prepare ${step.name}`] ?? NOTHING;
  const bond = bondOf(bare, limits, below, bench);
  const state = { ...bare, bond, notes: [...prepared.notes, ...bare.notes] };
  const isPrepared = below.done_at !== '' && isSince(prepared.done_at, below.done_at);
  const isLate = bond === Bond.SECONDARY && !isPrepared;
  if (state.state === State.LOCKED) {
    if (unpassed(found)) return { ...state, reason: unpassed(found), bond: '' };
    if (isUnsure(bench, below)) return unsure(state);
    if (isLate) return { ...state, state: State.LATE, reason: 'secondary_bond' };
  }
  // A window that has closed says nothing about a surface that was prepared.
  const shown = bond === Bond.SECONDARY ? limited(state, NO_LIMITS) : state;
  if (shown.state !== State.LOCKED) return isLate ? { ...shown, reason: 'not_prepared' } : shown;
  return { ...shown, state: State.READY, reason: plyReason(state, limits, bench) };
}

/** A ply on a ply goes on wet; only a coat has to set first. @param {StepState} below  @param {StepState[]} found  @param {Bench} bench */
function plyLimits(below, found, bench) {
  const limits = windowOf(bench, below);
  const tack = below.step.kind === 'surface_coat' ? last(found, 'tack') : undefined;
  return tack ? { ...limits, closes_at: tack.closes_at } : { ...limits, opens_at: '', coldest_c: null };
}

/** @param {StepState} state  @param {Limits} limits  @param {Bench} bench */
function plyReason({ bond }, { opens_at, missing }, bench) {
  if (bond === Bond.SECONDARY) return '';
  if (missing) return 'not_on_card';
  return opens_at && !isPast(bench, opens_at) ? 'before_clock' : '';
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function peelPlyState(step, found, bench) {
  const below = last(found, 'ply');
  if (!below) return plainState(step, found, bench);
  const limits = { ...windowOf(bench, below), opens_at: '', coldest_c: null };
  const state = told(step, limits, bench);
  const first = unpassed(found);
  if (state.state === State.LOCKED && !first && isUnsure(bench, below)) return unsure(state);
  const clocked = gated(state, first, limits, bench);
  return clocked.state === State.LATE ? { ...clocked, reason: 'not_wet' } : clocked;
}

/**
 * Primary inside the window; what a screen said when the ply began stays said.
 * @param {StepState} state
 * @param {Limits} limits
 * @param {StepState} below
 * @param {Bench} bench
 * @returns {import('../types.js').BondWord}
 */
function bondOf(state, limits, below, bench) {
  const begun = state.started_at || state.done_at;
  const { shown } = bench.happened[state.step.name] ?? NOTHING;
  let closesAt = limits.closes_at;
  if (begun && shown) {
    if (shown !== Bond.PRIMARY) return /** @type {import('../types.js').BondWord} */ (shown);
    // The sheet's own window is the widest there is: nothing is primary beyond it.
    closesAt = windowOf(bench, below, []).closes_at;
  } else if (begun && isUnsure(bench, below, begun)) {
    return '';
  }
  if (!closesAt) return '';
  const closed = begun ? isSince(begun, closesAt) : isPast(bench, closesAt);
  return closed ? Bond.SECONDARY : Bond.PRIMARY;
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function cureState(step, found, bench) {
  // A peel ply that was left out is no layer.
  const layer = last(found.filter(({ notes }) => !notes.includes(LEFT_OUT)), 'ply', 'peel_ply');
  if (layer?.state !== State.DONE) {
    return { ...told(step, NO_LIMITS, bench), reason: unpassed(found) };
  }
  const system = newest(bench.cards.systems, step.system);
  const layerAt = endedAt(layer);
  const limits = cureLimits(system, layerAt, bench.readings);
  const full_at = fullCureAt(system, layerAt, bench.readings);
  const state = { ...told(step, limits, bench), started_at: layerAt, full_at };
  if (limits.missing && state.done_at) return state;
  if (limits.missing) return { ...state, state: State.RUNNING, reason: 'not_on_card' };
  const isOver = isPast(bench, limits.opens_at);
  const done_at = isOver ? limits.opens_at : '';
  return { ...state, state: isOver ? State.DONE : State.RUNNING, done_at };
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function demouldState(step, found, bench) {
  const cure = last(found, 'cure');
  const limits = { ...NO_LIMITS, opens_at: cure?.opens_at ?? '', coldest_c: cure?.coldest_c ?? null };
  const others = found.filter((state) => state !== cure || !cure.opens_at);
  const state = { ...told(step, limits, bench), full_at: cure?.full_at ?? '' };
  return gated(state, unpassed(others), limits, bench);
}

/** @param {string} closesAt  @param {string} testedAt */
function earlier(closesAt, testedAt) {
  return !closesAt || isSince(closesAt, testedAt) ? testedAt : closesAt;
}

/** @param {StepState[]} waiting */
function nextLimit(waiting) {
  const limits = waiting.map(({ step, state, reason, opens_at, closes_at }) => {
    if (step.kind === 'cure' && state === State.RUNNING) return opens_at;
    if (state === State.WAITING && reason !== 'no_window') return opens_at;
    return state === State.LOCKED || state === State.RUNNING ? '' : closes_at;
  });
  return limits.filter(Boolean).sort()[0] ?? '';
}
