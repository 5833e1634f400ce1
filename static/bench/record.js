/** Writing rows about a cup, and the small settings of this phone. */
import { crew, cupLabelled, cupOf, highestOwnSeq, refresh, shop } from './cups.js';
import { CupChanged, append, keepFacts, keepPlan } from './log/bench-log.js';
import { scaleName } from './trade/cards.js';

/** @typedef {import('./shapes.js').Draft} Draft */
/** @typedef {import('./shapes.js').KnownCup} KnownCup */
/** @typedef {import('./shapes.js').PlannedCup} PlannedCup */

const CREW_LASTS_MS = 8 * 3600 * 1000;

/** Other windows of this phone hear that the log has grown. */
const channel = new BroadcastChannel('companion-log');
export const changes = new EventTarget();
channel.addEventListener('message', () => void told());

async function told() {
  await refresh();
  changes.dispatchEvent(new Event('change'));
}

export const appVersion =
  document.querySelector('meta[name="app-version"]')?.getAttribute('content') ?? '';

/**
 * Write rows of one cup; they are on disk when this resolves.
 * @param {KnownCup} known
 * @param {Draft[]} drafts
 */
export async function write(known, drafts) {
  // What the person saw counts, not what has arrived since: the screen may be older than the log.
  const start = known.rows[0];
  const now = start ? cupOf(start.event_id) : cupLabelled(known.code);
  if (now && now.rows.length > known.rows.length) throw new CupChanged();
  const last = known.rows.length ? (known.cup?.last_event_id ?? known.rows.at(-1)?.event_id) : '';
  const common = {
    job: start?.job ?? known.plan?.job ?? '',
    step: start?.step ?? known.plan?.step ?? '',
    system: start?.system ?? known.plan?.system ?? '',
    scale: start?.scale ?? (known.scale ? scaleName(known.scale) : ''),
    person: crew()?.person ?? '',
  };
  const place = {
    after: last ?? '',
    known: new Set(known.rows.map((row) => row.event_id)),
    known_seq: highestOwnSeq(known.rows),
    cup: known.code,
    app_version: appVersion,
  };
  await append(drafts.map((draft) => ({ ...common, ...draft })), place);
  await tellOfRows();
}

/**
 * Write rows of no cup: air and mould, steps of a lay-up sheet. All of them are kept, or none; they
 * are on disk when this resolves.
 * @param {Draft[]} drafts
 * @returns {Promise<import('./types.js').Row[]>} the rows as they were written
 */
export async function writeOfShop(drafts) {
  const common = { person: crew()?.person ?? '' };
  // No row that came in between can be in the way.
  const known_seq = Number.MAX_SAFE_INTEGER;
  const place = { after: '', known: new Set(), known_seq, cup: '', app_version: appVersion };
  const rows = await append(drafts.map((draft) => ({ ...common, ...draft, cup: '' })), place);
  await tellOfRows();
  return rows;
}

async function tellOfRows() {
  await refresh();
  channel.postMessage('rows');
  changes.dispatchEvent(new Event('written'));
}

/** Whether somebody has said in the last eight hours who stands here and at which scale. */
export function crewIsFresh() {
  const told = crew();
  const bundle = shop();
  if (!told || !bundle) return false;
  return (
    Date.now() - Date.parse(told.at) < CREW_LASTS_MS &&
    told.person in bundle.people &&
    bundle.scales.some((scale) => scale.newest && scaleName(scale) === told.scale)
  );
}

/**
 * Keep who stands here and which scale is used.
 * @param {string} person
 * @param {string} scale  name with revision
 */
export async function setCrew(person, scale) {
  await keepFacts({ crew: { person, scale, at: new Date().toISOString() } });
  await refresh();
}

/**
 * Plan a cup on this phone.
 * @param {Omit<PlannedCup, 'code'>} plan
 * @param {string} given  code of a label at hand; empty takes one of this phone's own block
 * @returns {Promise<string>} the code; empty where this phone has none left
 */
export async function planHere(plan, given) {
  const code = await keepPlan(plan, given);
  await refresh();
  return code;
}
