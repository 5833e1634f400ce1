/**
 * In the middle of a cup the app notes every few seconds that it runs, on a screen that is on. A phone that died, and a page
 * that was frozen, then know how long nobody looked; the gap becomes a row of the cup.
 */
import { crew, isOwn, startedCups } from './cups.js';
import { facts, keepFacts } from './log/bench-log.js';
import { runsSince } from './moment.js';
import { changes, write } from './record.js';

/** @typedef {import('./shapes.js').KnownCup} KnownCup */

const EVERY_MS = 15_000;
/** A shorter gap is nothing a person has to see; after a longer one nobody goes on with a cup. */
const GAP_MS = 60_000;
const LONGEST_MS = 12 * 3600 * 1000;
/** Cups in which something is under way; part A may wait for days. */
const IN_THE_MIDDLE = new Set(['empty_read', 'b_open', 'judged', 'mixing', 'mixed']);

/** Cups in the middle of which this phone is, the latest first. */
function inTheMiddle() {
  return startedCups().filter(({ cup, rows }) => {
    const last = rows.find((row) => row.event_id === cup?.last_event_id);
    return cup !== null && last !== undefined && isOwn(last) && IN_THE_MIDDLE.has(cup.state);
  });
}

/** Only while somebody can look: a screen that is off is away, too. */
async function beat() {
  if (document.visibilityState !== 'visible' || inTheMiddle().length === 0) return;
  await keepFacts({ alive_at: new Date().toISOString() });
}

/**
 * Go on beating, and look back whenever the page comes to life.
 * @param {(known: KnownCup) => void} missed  called with the cup a gap was found in
 */
export function keepBeating(missed) {
  setInterval(() => void beat(), EVERY_MS);
  changes.addEventListener('written', () => void beat());
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void lookBack(missed);
  });
}

/** One look at a time: the second would find the gap of the first again. */
let looking = false;

/**
 * Find out how long the app did not run in the middle of a cup, and record it once.
 * @param {(known: KnownCup) => void} missed
 */
export async function lookBack(missed) {
  if (looking) return;
  looking = true;
  try {
    const { alive_at: alive } = await facts('alive_at');
    runsSince(alive ?? '');
    const [known] = inTheMiddle();
    const from = known ? lastSign(known, alive ?? '') : 0;
    const gap_ms = Date.now() - from;
    if (known && crew() && gap_ms >= GAP_MS && gap_ms < LONGEST_MS) {
      await write(known, [{ kind: 'away', target: new Date(from).toISOString() }]);
      missed(known);
    }
    await beat();
  } catch (error) {
    // A gap that cannot be written must not stop the weighing.
    console.error(error);
  } finally {
    looking = false;
  }
}

/**
 * The last sign of life in a cup: its last row of this phone's clock, or the last beat after it.
 * @param {KnownCup} known
 * @param {string} alive
 */
function lastSign({ rows }, alive) {
  const written = rows.map((row) => Date.parse(row.recorded_at));
  return Math.max(...written, Date.parse(alive) || 0);
}
