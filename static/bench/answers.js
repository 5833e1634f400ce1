/** What the server's answers mean, and which of them are believed. */

/** @typedef {import('./shapes.js').Holdings} Holdings */

/** Refusals of the server that the app knows by name. */
const REFUSALS = new Set([
  'other_server', 'records_not_writable', 'not_paired', 'revoked', 'other_log', 'too_often',
  'pairing_refused',
]);
const PREFIX = 'urn:companion:problem:';

/**
 * What the server said against a request, in one word; empty if nothing this app knows.
 * @param {{answer: any}} reply
 */
export function refusal({ answer }) {
  const type = String(answer?.type ?? '');
  const name = type.startsWith(PREFIX) ? type.slice(PREFIX.length) : '';
  return REFUSALS.has(name) ? name : '';
}

/**
 * Whether this can be the token of a phone: 256 bits as base64url (RFC 4648, section 5).
 * @param {unknown} token
 * @returns {token is string}
 */
export function isToken(token) {
  return typeof token === 'string' && /^[\w-]{43}$/.test(token);
}

/**
 * Why an acknowledgement is not believed; empty if it is.
 * @param {any} answer
 * @param {Record<string, any>} known
 * @param {string} digest
 * @returns {string}
 */
export function distrust(answer, known, digest) {
  if (answer === null || typeof answer !== 'object') return 'unknown_answer';
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
export function holdingsOf(answer, before) {
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

/** @param {any} bundle */
export function isBundle(bundle) {
  const lists = ['systems', 'scales', 'cup_types', 'lots', 'containers', 'jobs', 'planned_cups'];
  return (
    bundle?.format === 1 &&
    typeof bundle.server_id === 'string' &&
    typeof bundle.epoch === 'string' &&
    [...lists, 'open_cups'].every((name) => Array.isArray(bundle[name]))
  );
}
