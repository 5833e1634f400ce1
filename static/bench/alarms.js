/**
 * Alarms: a limit that passed is said on whatever screen is open, with a sound where one is wished
 * for, and by the phone's own notices where it allows them. Nothing ever shakes the bench. What passed
 * while the app was closed is said when it is opened.
 */
import { clocksNow, keptForClocks, limitOf } from './clocks.js';
import { facts, keepFacts } from './log/bench-log.js';
import { softSound, stopSound } from './parts/sound.js';

/** @typedef {import('./types.js').Clock} Clock */

const LOOK_EVERY_MS = 2000;
/** Silenced limits that are kept; older ones have long passed. */
const KEPT = 300;
/** Clocks that nag on the list, and ring for nobody. */
const QUIET = new Set(['copy', 'expiry', 'check', 'climate']);
/** Said beside the scale already, where it can be touched. */
const SAID_THERE = new Set(['auto_off']);

/** Whether a clock belongs to the shop: it nags on the list only. @param {Clock} clock */
export function ofShop({ kind }) {
  return QUIET.has(kind);
}

/** Whether the limit of a clock asks for somebody now. @param {Clock} clock */
export function isDue({ kind, tempo }) {
  return tempo === 'over' || tempo === 'open' || (tempo === 'soon' && kind === 'pot');
}

/** A limit with how it stands: three quarters and the end are two alarms. @param {Clock} clock */
function alarmOf(clock) {
  return `${limitOf(clock)} ${clock.tempo}`;
}

/** @returns {Promise<Set<string>>} limits a person has silenced */
export async function silenced() {
  const { silenced: kept } = await facts('silenced');
  return new Set(kept ?? []);
}

/** @param {Clock} clock */
export function isSilenced(clock, /** @type {Set<string>} */ quiet) {
  return quiet.has(alarmOf(clock));
}

/** Silence one limit of a clock; it stays on the list. @param {Clock} clock */
export async function silence(clock) {
  const quiet = await silenced();
  await keepFacts({ silenced: [...quiet, alarmOf(clock)].slice(-KEPT) });
}

/** Limits that are due and not silenced, the most urgent first. */
async function dueNow() {
  const quiet = await silenced();
  const due = clocksNow(await keptForClocks()).filter((clock) => isDue(clock) && !ofShop(clock) && !SAID_THERE.has(clock.kind));
  return due.filter((clock) => !isSilenced(clock, quiet));
}

/**
 * Go on looking at the clocks.
 * @param {(due: Clock[]) => void} say  called whenever what is due has changed
 * @param {(clock: Clock) => string} words  of an alarm, for the phone's own notice
 */
export function watchClocks(say, words) {
  let said = '';
  /** @type {Set<string> | null} */
  let rung = null;
  const look = async () => {
    try {
      const due = await dueNow();
      const now = due.map(alarmOf).join('\n');
      if (now !== said) say(due);
      said = now;
      // What had passed before the app was opened is shown; it rings for what passes from now on.
      const fresh = rung === null ? [] : due.filter((clock) => !rung?.has(alarmOf(clock)));
      rung = new Set([...(rung ?? []), ...due.map(alarmOf)]);
      for (const clock of fresh) ring(clock, words(clock));
    } catch (error) {
      console.error(error);
    }
    setTimeout(() => void look(), LOOK_EVERY_MS);
  };
  void look();
}

/**
 * @param {Clock} clock
 * @param {string} text
 */
function ring(clock, text) {
  if (clock.tempo === 'over') void stopSound();
  else void softSound();
  if (document.visibilityState !== 'hidden' || globalThis.Notification?.permission !== 'granted') return;
  // Silent in the sense of the platform: no buzzing beside a scale.
  void navigator.serviceWorker.ready.then((worker) => worker.showNotification(text, { tag: limitOf(clock), silent: true, requireInteraction: true }));
}
