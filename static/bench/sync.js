/**
 * Rows go up, the bundle comes down. A row counts as sent only when the server we know has
 * answered for exactly the bytes that were sent; everything else means "unknown", and the same
 * rows are sent again. There is one sender, and it never gives up.
 */
import { addCodes, allRows, facts, keepAnswer, keepFacts, unsent } from './log/bench-log.js';
import { writeLog } from './log/csv.js';
import { fetchBundle, postCodes, postRows } from './network.js';

/** @typedef {import('./types.js').Row} Row */
/** @typedef {import('./shapes.js').Holdings} Holdings */

const MAX_ROWS = 500;
const MAX_BYTES = 256 * 1024;
const REFILL_BELOW = 200;
const EVERY_MS = 60000;
const LONGEST_PAUSE_MS = 300000;

/** Told of each turn: what happened and how many rows are still to be sent. */
export const turns = new EventTarget();

let failures = 0;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let retry;

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
  return Math.random() * Math.min(LONGEST_PAUSE_MS, 1000 * 2 ** Math.min(failures, 12));
}

/** @param {string} appVersion */
async function recordedTurn(appVersion) {
  const problem = await turn(appVersion);
  await keepFacts({ last_turn: { at: new Date().toISOString(), problem } });
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
    if (error instanceof TypeError || isTimeout(error)) return 'not_reached';
    console.error(error);
    return 'failed';
  }
}

/** @param {unknown} error */
function isTimeout(error) {
  return error instanceof DOMException && /Timeout|Abort|Network/.test(error.name);
}

/** @param {string} appVersion */
async function sendAll(appVersion) {
  for (;;) {
    const { rows } = await unsent(MAX_ROWS);
    if (rows.length === 0) return '';
    const problem = await send(rows, appVersion);
    if (problem) return problem;
  }
}

/**
 * @param {Row[]} rows
 * @param {string} appVersion
 * @returns {Promise<string>}
 */
async function send(rows, appVersion) {
  const body = new TextEncoder().encode(writeLog(rows));
  if (body.length > MAX_BYTES && rows.length > 1) {
    return send(rows.slice(0, Math.ceil(rows.length / 2)), appVersion);
  }
  const digest = await contentDigest(body);
  const known = await facts('log_id', 'server', 'codes', 'holdings');
  const { answer } = await postRows(known.log_id, body, {
    'Content-Digest': digest,
    'Row-Count': String(rows.length),
    'Sent-At': new Date().toISOString(),
    'Codes-Left': String(known.codes?.length ?? 0),
    ...(known.server ? { 'Server-Id': known.server } : {}),
    'App-Version': appVersion,
  });
  const problem = distrust(answer, known, digest);
  if (problem) return problem;
  const holdings = holdingsOf(answer, known.holdings);
  await keepAnswer(holdings, answer.codes);
  return rows.every((row) => row.seq <= holdings.highest) ? '' : 'not_kept';
}

/**
 * Why an answer is not believed; empty if it is.
 * @param {any} answer
 * @param {Record<string, any>} known
 * @param {string} digest
 * @returns {string}
 */
function distrust(answer, known, digest) {
  if (answer === null || typeof answer !== 'object') return 'unknown_answer';
  if (answer.type === 'urn:companion:problem:other_server') return 'other_server';
  if (answer.type === 'urn:companion:problem:records_not_writable') return 'records_not_writable';
  if (answer.log_id !== known.log_id || answer.digest !== digest) return 'unknown_answer';
  if (!Number.isInteger(answer.have_upto) || !Array.isArray(answer.missing)) return 'unknown_answer';
  if (!Array.isArray(answer.results) || !Array.isArray(answer.codes)) return 'unknown_answer';
  return known.server && answer.server_id !== known.server ? 'other_server' : '';
}

/**
 * What the server holds after an answer.
 * @param {any} answer
 * @param {Holdings | undefined} before
 * @returns {Holdings}
 */
function holdingsOf(answer, before) {
  const same = before?.epoch === answer.epoch ? before : undefined;
  const numbers = answer.results.map((/** @type {any} */ result) => result.seq ?? 0);
  /** @type {Record<string, string>} */
  const aside = { ...same?.aside };
  for (const { seq, status, reason } of answer.results) {
    if (status === 'conflict' || status === 'quarantined') aside[seq] = `${status}: ${reason}`;
  }
  return {
    server_id: answer.server_id,
    epoch: answer.epoch,
    // Only what this phone has sent counts as held; what somebody imported may be a cut-off copy.
    highest: Math.max(same?.highest ?? 0, ...numbers),
    missing: answer.missing,
    at: answer.server_time,
    aside,
  };
}

/** @returns {Promise<string>} */
async function refreshBundle() {
  const known = await facts(
    'bundle', 'bundle_etag', 'server', 'holdings', 'log_id', 'codes', 'codes_epoch',
  );
  const fresh = await fetchBundle(known.bundle ? known.bundle_etag : '');
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
  return isFew || known.codes_epoch !== epoch ? refillCodes(known.log_id, epoch) : '';
}

/** @param {any} bundle */
function isBundle(bundle) {
  const lists = ['systems', 'scales', 'cup_types', 'lots', 'containers', 'jobs', 'planned_cups'];
  return (
    bundle?.format === 1 &&
    typeof bundle.server_id === 'string' &&
    typeof bundle.epoch === 'string' &&
    [...lists, 'open_cups'].every((name) => Array.isArray(bundle[name]))
  );
}

/**
 * @param {string} logId
 * @param {string} epoch
 */
async function refillCodes(logId, epoch) {
  const answer = await postCodes(logId);
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
