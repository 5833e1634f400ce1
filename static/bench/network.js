/** The only place that asks the network. Every call ends within 15 seconds. */

const LIMIT_MS = 15000;

/**
 * Words of one language; also answered by the worker when there is no network.
 * @param {string} language
 * @returns {Promise<Record<string, string | string[]>>}
 */
export async function fetchWords(language) {
  const response = await fetch(`/bench/words/${language}.json`, limited());
  if (!response.ok) throw new TypeError(`words: ${response.status}`);
  return response.json();
}

/**
 * What came back: whatever is not our JSON is null; `wait_s` is the pause the server asks for.
 * @typedef {{status: number, answer: any, etag: string, wait_s: number}} Reply
 */

/**
 * Send rows.
 * @param {string} logId
 * @param {Uint8Array<ArrayBuffer>} body  CSV, UTF-8
 * @param {Record<string, string>} headers
 * @param {string} token  of this phone; empty while it has none
 * @returns {Promise<Reply>}
 */
export function postRows(logId, body, headers, token) {
  const type = { 'Content-Type': 'text/csv; charset=utf-8; header=present' };
  return ask(`/api/v1/logs/${logId}/rows`, {
    method: 'POST',
    headers: { ...type, ...headers, ...bearer(token) },
    body,
  });
}

/**
 * Ask for codes for cups without a plan.
 * @param {string} logId
 * @param {string} token
 * @returns {Promise<Reply>}
 */
export function postCodes(logId, token) {
  return postJson('/api/v1/codes', { log_id: logId }, token);
}

/**
 * Exchange a one-time code for the token of this phone.
 * @param {{code: string, log_id: string, rows: number, server_id: string,
 *   app_version: string}} asked
 * @returns {Promise<Reply>}
 */
export function postPairing(asked) {
  return postJson('/api/v1/pair', asked, '');
}

/**
 * The bundle; status 304 where it is the one held.
 * @param {string} etag  of the bundle held, or empty
 * @param {string} token
 * @returns {Promise<Reply>}
 */
export function fetchBundle(etag, token) {
  /** @type {Record<string, string>} */
  const held = etag ? { 'If-None-Match': etag } : {};
  return ask('/api/v1/bundle', { cache: 'no-store', headers: { ...held, ...bearer(token) } });
}

/**
 * Whether an error says that no answer came, as against a fault of this app.
 * @param {unknown} error
 */
export function isUnreached(error) {
  if (error instanceof TypeError) return true;
  return error instanceof DOMException && /Timeout|Abort|Network/.test(error.name);
}

/**
 * @param {string} path
 * @param {unknown} body
 * @param {string} token
 */
function postJson(path, body, token) {
  return ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', ...bearer(token) },
    body: JSON.stringify(body),
  });
}

/**
 * @param {string} path
 * @param {RequestInit} request
 * @returns {Promise<Reply>}
 */
async function ask(path, request) {
  const response = await fetch(path, { ...limited(), redirect: 'error', ...request });
  return {
    status: response.status,
    answer: await json(response),
    etag: response.headers.get('ETag') ?? '',
    wait_s: Number.parseInt(response.headers.get('Retry-After') ?? '', 10) || 0,
  };
}

/**
 * @param {string} token
 * @returns {Record<string, string>}
 */
function bearer(token) {
  return token ? { Authorization: `Bearer ${token}` } : {};
}

function limited() {
  return { signal: AbortSignal.timeout(LIMIT_MS) };
}

/**
 * @param {Response} response
 * @returns {Promise<any>}
 */
async function json(response) {
  const type = response.headers.get('Content-Type') ?? '';
  if (!/^application\/(problem\+)?json/.test(type)) return null;
  try {
    return await response.json();
  } catch {
    return null;
  }
}
