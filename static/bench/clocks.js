/** Every clock of this phone's shop, now: of cups, steps, air, scale, lots and records. */
import { crew, shop, startedCups } from './cups.js';
import { facts } from './log/bench-log.js';
import { nowUtc } from './moment.js';
import { knownSheets } from './sheets.js';
import { airNow, cupTemperatureNow } from './shop-rows.js';
import { autoOffClock, byNextLimit, checkClock, climateClock, copyClock, cupClocks, expiryClocks, stepClocks } from './trade/running.js';

/** @typedef {import('./shapes.js').Bundle} Bundle */
/** @typedef {import('./shapes.js').Holdings} Holdings */
/** @typedef {import('./types.js').Clock} Clock */

/** What changes what stands on the display. */
export const READINGS = new Set(['weighed', 'rezeroed', 'scale_restarted']);

/** What the clocks need of the phone's storage besides its rows. @typedef {{holdings?: Holdings}} Kept */

/** @returns {Promise<Kept>} */
export async function keptForClocks() {
  const { holdings } = await facts('holdings');
  return { holdings };
}

/**
 * @param {Kept} kept
 * @returns {Clock[]} by their next limit
 */
export function clocksNow({ holdings }) {
  const now = nowUtc();
  const cups = startedCups().filter(({ cup, system }) => cup && system && cup.state !== 'closed');
  const ofCups = cups.flatMap(({ cup, system }) => (cup && system ? cupClocks(cup, system, now, cupTemperatureNow(cup.first_contact_at)) : []));
  const ofScales = cups.flatMap((known) => scaleClock(known, now));
  const sheets = knownSheets().filter(({ current }) => current);
  const ofSteps = sheets.flatMap(({ steps, job }) => stepClocks(steps, job, now));
  const busy = cups.length > 0 || sheets.length > 0;
  return byNextLimit([...ofCups, ...ofScales, ...ofSteps, ...(busy ? shopClocks(now) : []), ...(holdings ? [copyClock(holdings.at, now)] : [])]);
}

/** States in which the display is needed for the next reading. */
const ON_THE_SCALE = new Set(['empty_read', 'a_waiting', 'b_open']);
/** After that long the scale is off, and everybody knows. */
const KNOWN_OFF_MS = 10 * 60 * 1000;

/**
 * The scale a cup stands on, which switches itself off.
 * @param {import('./shapes.js').KnownCup} known
 * @param {string} now
 */
function scaleClock({ cup, rows, scale }, now) {
  const last = rows.filter((row) => READINGS.has(row.kind)).at(-1);
  if (!cup || !scale || !last || !ON_THE_SCALE.has(cup.state)) return [];
  if (Date.parse(now) - Date.parse(last.recorded_at) > KNOWN_OFF_MS) return [];
  return autoOffClock(scale, last.recorded_at, now).map((clock) => ({ ...clock, about: `${scale.code} ${cup.code}` }));
}

/** Clocks that matter while something is being made. @param {string} now */
function shopClocks(now) {
  const bundle = shop();
  const scale = crew()?.scale.split('@')[0] ?? '';
  const checks = bundle?.scale_checks;
  const used = new Set((bundle?.containers ?? []).map((can) => can.lot));
  const lots = (bundle?.lots ?? []).filter((lot) => used.has(lot.code));
  return [
    climateClock(airNow().measured_at, now),
    // A server before this field does not say when a scale was checked.
    ...(scale && checks ? [checkClock(scale, checks[scale] ?? '', now)] : []),
    ...expiryClocks(lots, now),
  ];
}

/** One limit of one clock: silenced, it is silenced for this limit only. @param {Clock} clock */
export function limitOf({ kind, about, job, next_at }) {
  return [kind, about, job, next_at].join(' ');
}
