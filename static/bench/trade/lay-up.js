/**
 * The lay-up sheet as it stands: what is done, what runs, what waits for a clock, what is late.
 *
 * Folded from the rows of one job. The order of the steps is the order of the work: a step stays
 * locked until the one before is done. A layer bonds by itself (primary) while the one below is in
 * its tack window; afterwards it has to be prepared first, and the record of that stands in a row
 * of a step of its own, `prepare ply 2`. What a screen said when a ply began (`shown`) stays said:
 * warmth measured later does not rewrite it.
 */
import { NO_LIMITS, cureLimits, releaseLimits, tackLimits } from './lay-up-clocks.js';
import { NOTHING, happened } from './lay-up-rows.js';
import { parseUtc } from './times.js';

/** @typedef {import('../types.js').Happened} Happened */
/** @typedef {import('../types.js').Limits} Limits */
/** @typedef {import('../types.js').Sheet} Sheet */
/** @typedef {import('../types.js').SheetCards} SheetCards */
/** @typedef {import('../types.js').Step} Step */
/** @typedef {import('../types.js').StepState} StepState */
/**
 * What the states follow from.
 * @typedef {{told: Record<string, Happened>, cards: SheetCards, now_ms: number,
 *   temperature_c: number | null}} Bench
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

/** How a layer holds on the one below: by itself, or because it was prepared. */
export const Bond = Object.freeze({
  PRIMARY: /** @type {const} */ ('primary'),
  SECONDARY: /** @type {const} */ ('secondary'),
});

/** @type {Record<string, (step: Step, found: StepState[], bench: Bench) => StepState>} */
const STATES = { tack: tackState, ply: plyState, cure: cureState, demould: demouldState };

/**
 * How far a lay-up sheet is.
 * @param {readonly Step[]} steps
 * @param {Iterable<import('../types.js').Row>} rows of one job; other kinds are passed over
 * @param {SheetCards} cards
 * @param {string} nowUtc RFC 3339
 * @param {number | null} temperatureC of mould or shop; null takes the times of the sheets as they are
 * @returns {Sheet}
 */
export function foldSheet(steps, rows, cards, nowUtc, temperatureC) {
  const bench = { told: happened(rows), cards, now_ms: parseUtc(nowUtc), temperature_c: temperatureC };
  /** @type {StepState[]} */
  const found = [];
  for (const step of steps) found.push((STATES[step.kind] ?? plainState)(step, found, bench));
  const last = found.at(-1);
  if (!last || last.state === State.DONE) return { steps: found, current: '', limit_at: '' };
  const waiting = found.filter((state) => !isPassed(state));
  return { steps: found, current: waiting[0].step.name, limit_at: nextLimit(waiting) };
}

/** @param {Bench} bench  @param {string} at */
function isPast(bench, at) {
  return at !== '' && bench.now_ms >= parseUtc(at);
}

/**
 * Of several revisions the newest counts.
 * @template {{code: string, revision: number}} Card
 * @param {readonly Card[]} cards
 * @param {string} code
 * @returns {Card | null}
 */
function newest(cards, code) {
  const fitting = cards.filter((card) => card.code === code);
  return fitting.sort((one, other) => other.revision - one.revision)[0] ?? null;
}

/** @param {Bench} bench  @param {StepState} below */
function windowOf({ cards, temperature_c }, below) {
  if (!below.done_at) return NO_LIMITS;
  return tackLimits(newest(cards.systems, below.step.system), below.done_at, temperature_c);
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
  const own = bench.told[step.name] ?? NOTHING;
  const state = told(step, limits, bench);
  if (unpassed(found)) return { ...state, reason: unpassed(found) };
  const tested = isSince(own.tested_at, coat.done_at) ? own.tested : '';
  if (tested === 'ready') return { ...state, state: State.DONE, done_at: own.tested_at };
  if (tested === 'too_late') {
    const closes_at = earlier(limits.closes_at, own.tested_at);
    return { ...state, state: State.LATE, reason: 'too_late', closes_at };
  }
  const clocked = gated(state, '', limits, bench);
  const stays = tested === 'not_yet' && clocked.state !== State.LATE;
  return stays ? { ...clocked, reason: 'not_yet' } : clocked;
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function plyState(step, found, bench) {
  const below = last(found, ['surface_coat', 'ply']);
  if (!below) return plainState(step, found, bench);
  const tack = below.step.kind === 'surface_coat' ? last(found, ['tack']) : undefined;
  const open = windowOf(bench, below);
  // A ply on a ply goes on wet; only a coat has to set first.
  const limits = tack ? { ...open, closes_at: tack.closes_at } : { ...open, opens_at: '' };
  const prepared = bench.told[`prepare ${step.name}`] ?? NOTHING;
  const isPrepared = below.done_at !== '' && isSince(prepared.done_at, below.done_at);
  const bare = told(step, limits, bench);
  const bond = bondOf(bare, limits, below, bench);
  const state = { ...bare, bond, notes: [...prepared.notes, ...bare.notes] };
  const unprepared = bond === Bond.SECONDARY && !isPrepared;
  if (state.state !== State.LOCKED) return { ...state, reason: unprepared ? 'not_prepared' : '' };
  if (unpassed(found)) return { ...state, reason: unpassed(found), bond: '' };
  if (unprepared) return { ...state, state: State.LATE, reason: 'secondary_bond' };
  const early = tack && !isPast(bench, limits.opens_at) ? 'before_clock' : '';
  const reason = limits.missing ? 'not_on_card' : early;
  return { ...state, state: State.READY, reason: bond === Bond.SECONDARY ? '' : reason };
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
  const { shown } = bench.told[state.step.name] ?? NOTHING;
  let closesAt = limits.closes_at;
  if (begun && shown) {
    if (shown !== Bond.PRIMARY) return /** @type {import('../types.js').BondWord} */ (shown);
    // The sheet's own window is the widest there is: nothing is primary beyond it.
    closesAt = windowOf({ ...bench, temperature_c: null }, below).closes_at;
  }
  if (!closesAt) return '';
  const closed = begun ? isSince(begun, closesAt) : isPast(bench, closesAt);
  return closed ? Bond.SECONDARY : Bond.PRIMARY;
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function cureState(step, found, bench) {
  const layer = last(found, ['ply', 'peel_ply']);
  if (layer?.state !== State.DONE) {
    return { ...told(step, NO_LIMITS, bench), reason: unpassed(found) };
  }
  const { cards, temperature_c } = bench;
  const limits = cureLimits(newest(cards.systems, step.system), layer.done_at, temperature_c);
  const state = { ...told(step, limits, bench), started_at: layer.done_at };
  if (limits.missing && state.done_at) return state;
  if (limits.missing) return { ...state, state: State.RUNNING, reason: 'not_on_card' };
  const isOver = isPast(bench, limits.opens_at);
  const done_at = isOver ? limits.opens_at : '';
  return { ...state, state: isOver ? State.DONE : State.RUNNING, done_at };
}

/** @param {Step} step  @param {StepState[]} found  @param {Bench} bench  @returns {StepState} */
function demouldState(step, found, bench) {
  const cure = last(found, ['cure']);
  const limits = { ...NO_LIMITS, opens_at: cure?.opens_at ?? '' };
  const others = found.filter((state) => state !== cure || !cure.opens_at);
  return gated(told(step, limits, bench), unpassed(others), limits, bench);
}

/** @param {Step} step  @param {Limits} limits  @param {Bench} bench  @returns {StepState} */
function told(step, { opens_at, closes_at }, bench) {
  const { started_at, done_at, person, notes } = bench.told[step.name] ?? NOTHING;
  const state = done_at ? State.DONE : started_at ? State.RUNNING : State.LOCKED;
  return { step, state, reason: '', started_at, done_at, opens_at, closes_at, bond: '', person, notes };
}

/**
 * Whether a step that was not begun may be begun now.
 * @param {StepState} state
 * @param {string} first  name of a step that comes first; empty if none does
 * @param {Limits} limits
 * @param {Bench} bench
 * @returns {StepState}
 */
function gated(state, first, limits, bench) {
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

/** @param {StepState} state  after a missed window the plies follow, once prepared */
function isPassed({ step, state }) {
  return state === State.DONE || (step.kind === 'tack' && state === State.LATE);
}

/** @param {StepState[]} found  @returns {string} */
function unpassed(found) {
  return found.findLast((state) => !isPassed(state))?.step.name ?? '';
}

/** @param {StepState[]} found  @param {string[]} kinds */
function last(found, kinds) {
  return found.findLast((state) => kinds.includes(state.step.kind));
}

/** @param {string} at  @param {string} then */
function isSince(at, then) {
  return at !== '' && parseUtc(at) >= parseUtc(then);
}

/** @param {string} closesAt  @param {string} testedAt */
function earlier(closesAt, testedAt) {
  return !closesAt || isSince(closesAt, testedAt) ? testedAt : closesAt;
}

/** @param {StepState[]} waiting */
function nextLimit(waiting) {
  const limits = waiting.map(({ step, state, opens_at, closes_at }) => {
    if (state === State.WAITING || (step.kind === 'cure' && state === State.RUNNING)) return opens_at;
    return state === State.READY || state === State.LATE ? closes_at : '';
  });
  return limits.filter(Boolean).sort()[0] ?? '';
}
