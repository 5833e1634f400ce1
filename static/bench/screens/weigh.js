/**
 * Weigh: one instruction at a time, from the empty cup to the verdict and on to the part.
 *
 * What is shown follows from the rows alone, so a phone that died comes back to the same step.
 * Only two things live on the screen: that a reading is being taken again, and that the offered
 * correction has been accepted.
 */
import { crew, cupLabelled, cupTypeNamed, mixOf, scaleNamed } from '../cups.js';
import { nowUtc } from '../moment.js';
import { crewIsFresh } from '../record.js';
import { airNow, cupTemperatureNow } from '../shop-rows.js';
import { advise, fold } from '../trade/cup/index.js';
import { makeRow } from '../trade/rows.js';
import { canFor } from './cans.js';
import { divideStep } from './divide.js';
import { startRows } from './drafts.js';
import { go, stayingHere } from './frame.js';
import { hardenerStep } from './hardener.js';
import { keep } from './keep.js';
import { plannedAdditive } from './paste.js';
import { pasteStep } from './paste-step.js';
import { pourStep, readAgainStep, readCupStep } from './pour.js';
import { useStep } from './poured.js';
import { unidentifiedOf } from './unidentified.js';
import { mixingStep } from './mixing.js';
import { verdictStep } from './verdict-steps.js';
import { watchStep } from './watch.js';
import { closedStep, notKnownStep, otherScaleStep } from './stops.js';

/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../types.js').Advice} Advice */
/** @typedef {import('../types.js').Air} Air */
/** @typedef {import('../types.js').Cup} Cup */
/** @typedef {import('../types.js').PlannedAdditive} PlannedAdditive */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */
/** @typedef {import('../types.js').SystemCard} SystemCard */

/**
 * What a step of weighing works with.
 * @typedef {{known: KnownCup, cup: Cup, content: Cup, system: SystemCard, scale: ScaleCard, advice: Advice,
 *   start: Draft[], cup_volume_ml: number | null, additive: PlannedAdditive | null, air: Air,
 *   temperature_c: number | null, mode: '' | 'again' | 'correcting',
 *   again: (mode: '' | 'again' | 'correcting') => Promise<void>,
 *   keep: (drafts: Draft[]) => Promise<void>}} Weighing
 * `content` is the cup whose pours are in it: of a share the one that was divided;
 * `start` holds the rows that go in front of the first reading of a planned cup;
 * `temperature_c` is the warmest that counts for the cup, null where none does
 */

/**
 * @param {string} code
 * @param {'' | 'again' | 'correcting'} [mode]
 */
export async function weighScreen(code, mode = '') {
  const known = cupLabelled(code);
  if (known && unidentifiedOf(known)) return go(`unidentified/${code}`);
  if (!known || !known.system) return notKnownStep(code);
  if (!known.cup && known.rows.length > 0) return notKnownStep(code);
  const ended = known.cup?.state === 'closed';
  if (!ended && !crewIsFresh() && !isUrgent(known)) return go(`crew/weigh/${code}`);
  const weighing = prepare(known, mode);
  if (!weighing) return;
  await show(weighing);
  follow(weighing);
}

/**
 * With hardener in the cup nobody is asked who they are; whoever said it last stands in the row.
 * @param {KnownCup} known
 */
function isUrgent({ cup }) {
  return crew() !== null && cup !== null && cup.first_contact_at !== '';
}

/**
 * @param {KnownCup} known
 * @param {'' | 'again' | 'correcting'} mode
 * @returns {Weighing | null}
 */
export function prepare(known, mode) {
  const system = known.system;
  const scale = known.scale ?? scaleNamed(crew()?.scale ?? '');
  if (!system || !scale) return null;
  const placed = { ...known, scale };
  const start = known.cup ? [] : startRows(placed);
  const cup = known.cup ?? fold(start.map(provisional), system, scale);
  const type = cupTypeNamed(known.plan?.cup_type ?? '');
  const volume = type?.volume_ml ?? null;
  const additive = plannedAdditive(known.plan);
  const air = airNow();
  const temperature_c = cupTemperatureNow(cup.first_contact_at);
  const advice = advise(cup, system, scale, nowUtc(), temperature_c, volume, additive);
  return {
    known: placed,
    cup,
    content: mixOf(known)?.cup ?? cup,
    system,
    scale,
    advice,
    start,
    cup_volume_ml: volume,
    air,
    temperature_c,
    additive,
    mode,
    again: (next) => weighScreen(known.code, next),
    keep: async (drafts) => {
      const stillHere = stayingHere();
      await keep(placed, drafts);
      if (stillHere()) await weighScreen(known.code);
    },
  };
}

/**
 * A row as fold sees it before it is written.
 * @param {Draft} draft
 * @param {number} index
 */
function provisional(draft, index) {
  const { refers_to_previous: _, begins_share: __, ...fields } = draft;
  return makeRow({ ...fields, event_id: `p${index}`, after: index ? `p${index - 1}` : '' });
}

/** What is not worked on with keys follows the clocks of the cup. */
const FOLLOWS = new Set(['open_hardener', 'mix', 'finish_mixing', 'divide', 'use', 'correct', 'scrap']);

/**
 * A screen that lies open is drawn anew when a limit passes; a question on it is answered first.
 * @param {Weighing} weighing
 */
function follow({ known, advice, mode }) {
  if (mode || !FOLLOWS.has(advice.action)) return;
  const stillHere = stayingHere();
  const drawn = document.querySelector('#screen > *');
  const said = sayingOf(advice);
  const tick = () => {
    if (!drawn?.isConnected || !stillHere()) return;
    const now = prepare(known, mode);
    if (!now || sayingOf(now.advice) === said || document.querySelector('dialog[open]')) return void setTimeout(tick, 1000);
    void weighScreen(known.code);
  };
  setTimeout(tick, 1000);
}

/** @param {Advice} advice */
function sayingOf({ action, reason, cautions }) {
  return [action, reason, ...cautions].join(' ');
}

/** @param {Weighing} weighing */
async function show(weighing) {
  const { advice, mode } = weighing;
  if (mode === 'again' && weighing.cup.last_reading_id) return readAgainStep(weighing);
  switch (advice.action) {
    case 'other_scale':
      return otherScaleStep(weighing);
    case 'read_cup':
      return readCupStep(weighing);
    case 'pour':
      if (advice.component === 'a') return pourA(weighing);
      return advice.component === 'b' ? pourStep(weighing, null) : pasteStep(weighing);
    case 'open_hardener':
      return hardenerStep(weighing);
    case 'correct':
      return mode === 'correcting' ? pourStep(weighing, null) : verdictStep(weighing);
    case 'finish_mixing':
      return mixingStep(weighing);
    case 'divide':
      return divideStep(weighing);
    case 'watch':
      return watchStep(weighing);
    case 'use':
      return useStep(weighing);
    case 'none':
      return closedStep(weighing);
    default:
      return verdictStep(weighing);
  }
}

/** @param {Weighing} weighing */
async function pourA(weighing) {
  const can = await canFor(weighing, 'a');
  if (can) await pourStep(weighing, can);
}
