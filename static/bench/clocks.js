/** Every clock of this phone's shop, now: of cups, steps, air, scale, lots and records. */
import { crew, shop, startedCups } from './cups.js';
import { facts } from './log/bench-log.js';
import { nowUtc } from './moment.js';
import { knownSheets } from './sheets.js';
import { airNow, cupTemperatureNow } from './shop-rows.js';
import { byNextLimit, checkClock, climateClock, copyClock, cupClocks, expiryClocks, stepClocks } from './trade/running.js';

/** @typedef {import('./shapes.js').Bundle} Bundle */
/** @typedef {import('./shapes.js').Holdings} Holdings */
/** @typedef {import('./types.js').Clock} Clock */

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
  const sheets = knownSheets().filter(({ current }) => current);
  const ofSteps = sheets.flatMap(({ steps, job }) => stepClocks(steps, job, now));
  const busy = cups.length > 0 || sheets.length > 0;
  return byNextLimit([...ofCups, ...ofSteps, ...(busy ? shopClocks(now) : []), ...(holdings ? [copyClock(holdings.at, now)] : [])]);
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
