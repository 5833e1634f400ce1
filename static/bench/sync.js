/**
 * Rows go up, the bundle comes down. A row counts as sent only when the server we know has
 * answered for exactly the bytes that were sent; everything else means "unknown", and the same
 * rows are sent again. There is one sender, and it never gives up.
 */
import { addCodes, allRows, facts, keepAnswer, keepFacts, unsent } from './log/bench-log.js';
import { writeLog } from './log/csv.js';
import { fetchBundle, isUnreached, postCodes, postRows } from './network.js';
import { distrust, holdingsOf, isBundle, isToken, refusal } from './answers.js';

/** @typedef {import('./types.js').Row} Row */
/** @typedef {import('./network.js').Reply} Reply */

const MAX_ROWS = 500;
const MAX_BYTES = 256 * 1024;
const REFILL_BELOW = 200;
const EVERY_MS = 60000;
const LONGEST_PAUSE_MS = 300000;
/** Pause where the server asks for one and does not say how long; and the longest it may ask for. */
const USUAL_WAIT_S = 60;
const LONGEST_WAIT_S = 3600;
/** What only pairing mends; remembered until the server says otherwise. */
const NO_ACCESS = new Set(['not_paired', 'revoked', 'other_log']);

/** Told of each turn: what happened and how many rows are still to be sent. */
export const turns = new EventTarget();

let failures = 0;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let retry;
/** No turn before this moment of the page's own clock. */
let not_before_ms = 0;

/**
 * Start sending: now, on return to view, when the network comes back, and each minute.
 * @param {string} appVersion
 */
export function keepInSync(appVersion) {
  const go = () => void sync(appVersion);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') go();
  });
  window.addEventListener('online', go);
  setInterval(go, EVERY_MS);
  go();
}

/**
 * One turn; resolves when it is over, whatever came of it.
 * @param {string} appVersion
 * @param {boolean} [patient]  wait for a turn that is under way, then take one more
 * @returns {Promise<string>} empty if all went well, else the cause in one word
 */
export async function sync(appVersion, patient = false) {
  if (performance.now() < not_before_ms) return 'too_often';
  const outcome = await navigator.locks.request('companion-sync', { ifAvailable: !patient }, (lock) =>
    lock ? recordedTurn(appVersion) : 'busy',
  );
  if (outcome !== 'busy') {
    clearTimeout(retry);
    failures = outcome ? failures + 1 : 0;
    if (outcome) retry = setTimeout(() => void sync(appVersion), pauseMs());
    turns.dispatchEvent(new CustomEvent('turn', { detail: outcome }));
  }
  return outcome;
}

/** Full jitter between nothing and 1, 2, 4 ... seconds, at most five minutes. */
function pauseMs() {
  const jitter_ms = Math.random() * Math.min(LONGEST_PAUSE_MS, 1000 * 2 ** Math.min(failures, 12));
  // A timer may fire a little early.
  return Math.max(jitter_ms, not_before_ms - performance.now() + 100);
}

/**
 * What the server said against a request; where it asks for a pause, the next turn waits.
 * @param {Reply} reply
 */
function refused(reply) {
  const problem = refusal(reply);
  if (problem === 'too_often') {
    const wait_s = Math.min(reply.wait_s || USUAL_WAIT_S, LONGEST_WAIT_S);
    not_before_ms = performance.now() + wait_s * 1000;
  }
  return problem;
}

/** @param {string} appVersion */
async function recordedTurn(appVersion) {
  const problem = await turn(appVersion);
  const told = problem === '' || NO_ACCESS.has(problem) ? { access: problem } : {};
  await keepFacts({ last_turn: { at: new Date().toISOString(), problem }, ...told });
  return problem;
}

/**
 * @param {string} appVersion
 * @returns {Promise<string>}
 */
async function turn(appVersion) {
  try {
    let problem = await sendAll(appVersion);
    problem ||= await refreshBundle();
    // A restored server holds less than it said: what it lacks goes up at once.
    if (!problem && (await unsent(1)).total > 0) problem = await sendAll(appVersion);
    return problem;
  } catch (error) {
    if (isUnreached(error)) return 'not_reached';
    console.error(error);
    return 'failed';
  }
}

/** @param {string} appVersion */
async function sendAll(appVersion) {
  for (;;) {
    const { rows, total } = await unsent(MAX_ROWS);
    if (rows.length === 0) return '';
    const problem = await send(rows, total, appVersion);
    if (problem) return problem;
  }
}

/**
 * @param {Row[]} rows
 * @param {number} total  rows the server does not hold, these among them
 * @param {string} appVersion
 * @returns {Promise<string>}
 */
async function send(rows, total, appVersion) {
  const body = new TextEncoder().encode(writeLog(rows));
  if (body.length > MAX_BYTES && rows.length > 1) {
    return send(rows.slice(0, Math.ceil(rows.length / 2)), total, appVersion);
  }
  const digest = await contentDigest(body);
  const known = await facts('log_id', 'server', 'codes', 'holdings', 'token');
  const reply = await postRows(known.log_id, body, {
    'Content-Digest': digest,
    'Row-Count': String(rows.length),
    'Sent-At': new Date().toISOString(),
    'Codes-Left': String(known.codes?.length ?? 0),
    ...(known.server ? { 'Server-Id': known.server } : {}),
    Unsent: String(total),
    'App-Version': appVersion,
  }, known.token ?? '');
  const { answer } = reply;
  const problem = refused(reply) || distrust(answer, known, digest);
  if (problem) return problem;
  const holdings = holdingsOf(answer, known.holdings);
  const renewed = isToken(answer.token) ? { used: known.token, next: answer.token } : null;
  await keepAnswer(holdings, answer.codes, renewed);
  return rows.every((row) => row.seq <= holdings.highest) ? '' : 'not_kept';
}

/** @returns {Promise<string>} */
async function refreshBundle() {
  const known = await facts(
    'bundle', 'bundle_etag', 'server', 'holdings', 'log_id', 'codes', 'codes_epoch', 'token',
  );
  const reply = await fetchBundle(known.bundle ? known.bundle_etag : '', known.token ?? '');
  const problem = refused(reply);
  if (problem) return problem;
  if (reply.status !== 304 && (reply.status !== 200 || reply.answer === null)) return 'not_reached';
  const fresh = reply.status === 304 ? null : { bundle: reply.answer, etag: reply.etag };
  if (fresh && !isBundle(fresh.bundle)) return 'unknown_answer';
  if (fresh && known.server && fresh.bundle.server_id !== known.server) return 'other_server';
  if (fresh) {
    await keepFacts({
      bundle: fresh.bundle,
      bundle_etag: fresh.etag,
      server: fresh.bundle.server_id,
    });
  }
  // After a restore the server may hold less than it once said. Looked at on every turn, so that
  // a phone that dies right here does not forget it.
  const epoch = (fresh?.bundle ?? known.bundle)?.epoch;
  if (known.holdings && epoch && known.holdings.epoch !== epoch) {
    await keepFacts({ holdings: undefined });
  }
  // The codes stay until others are here, or a phone that loses the network now had none.
  const isFew = (known.codes?.length ?? 0) < REFILL_BELOW;
  const isDue = isFew || known.codes_epoch !== epoch;
  return isDue ? refillCodes(known.log_id, epoch, known.token ?? '') : '';
}

/**
 * @param {string} logId
 * @param {string} epoch
 * @param {string} token
 */
async function refillCodes(logId, epoch, token) {
  const reply = await postCodes(logId, token);
  const problem = refused(reply);
  if (problem) return problem;
  const { answer } = reply;
  if (answer?.log_id !== logId || !Array.isArray(answer?.codes)) return 'unknown_answer';
  await addCodes(answer.codes, epoch);
  return '';
}

/** @param {Uint8Array<ArrayBuffer>} body */
async function contentDigest(body) {
  const bytes = new Uint8Array(await crypto.subtle.digest('SHA-256', body));
  return `sha-256=:${btoa(String.fromCharCode(...bytes))}:`;
}

/** @returns {Promise<string>} the whole log of this phone as CSV */
export async function wholeLog() {
  return writeLog(await allRows());
}
