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
 * Send rows; whatever is not our JSON comes back as null.
 * @param {string} logId
 * @param {Uint8Array<ArrayBuffer>} body  CSV, UTF-8
 * @param {Record<string, string>} headers
 * @returns {Promise<{status: number, answer: any}>}
 */
export async function postRows(logId, body, headers) {
  const response = await fetch(`/api/v1/logs/${logId}/rows`, {
    ...limited(),
    method: 'POST',
    redirect: 'error',
    headers: { 'Content-Type': 'text/csv; charset=utf-8; header=present', ...headers },
    body,
  });
  return { status: response.status, answer: await json(response) };
}

/**
 * Ask for codes for cups without a plan.
 * @param {string} logId
 * @returns {Promise<any>}
 */
export async function postCodes(logId) {
  const response = await fetch('/api/v1/codes', {
    ...limited(),
    method: 'POST',
    redirect: 'error',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ log_id: logId }),
  });
  return response.ok ? json(response) : null;
}

/**
 * The bundle, if it is another than the one held.
 * @param {string} etag  of the bundle held, or empty
 * @returns {Promise<{bundle: any, etag: string} | null>} null where nothing has changed
 */
export async function fetchBundle(etag) {
  const response = await fetch('/api/v1/bundle', {
    ...limited(),
    redirect: 'error',
    cache: 'no-store',
    headers: etag ? { 'If-None-Match': etag } : {},
  });
  if (response.status === 304) return null;
  const bundle = response.ok ? await json(response) : null;
  if (bundle === null) throw new TypeError(`bundle: ${response.status}`);
  return { bundle, etag: response.headers.get('ETag') ?? '' };
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
