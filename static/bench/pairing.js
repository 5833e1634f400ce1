/**
 * Pairing: a one-time code of the office is exchanged for the token of this phone. The log stays
 * what it is: pairing again goes on with the same one.
 */
import { facts, highestSeq, keepFacts } from './log/bench-log.js';
import { isUnreached, postPairing } from './network.js';
import { isToken, refusal } from './answers.js';

/** @typedef {import('./shapes.js').LostLog} LostLog */

/**
 * @param {string} code  26 characters
 * @param {string} appVersion
 * @returns {Promise<{problem: string, name: string, wait_s: number}>} `problem` empty: paired, and
 *   kept on this phone
 */
export async function pair(code, appVersion) {
  const known = await facts('log_id', 'server');
  const rows = await highestSeq();
  try {
    const reply = await postPairing({
      code,
      log_id: known.log_id,
      rows,
      server_id: known.server ?? '',
      app_version: appVersion,
    });
    const problem = refusal(reply) || distrust(reply.answer, known);
    if (!problem) await keep(reply.answer, known.log_id);
    return { problem, name: problem ? '' : reply.answer.name, wait_s: reply.wait_s };
  } catch (error) {
    if (!isUnreached(error)) throw error;
    return { problem: 'not_reached', name: '', wait_s: 0 };
  }
}

/**
 * Why an answer is not believed; empty if it is.
 * @param {any} answer
 * @param {Record<string, any>} known
 */
function distrust(answer, known) {
  if (answer === null || typeof answer !== 'object') return 'unknown_answer';
  if (answer.log_id !== known.log_id || !isToken(answer.token)) return 'unknown_answer';
  if (typeof answer.server_id !== 'string' || !answer.server_id) return 'unknown_answer';
  if (typeof answer.name !== 'string') return 'unknown_answer';
  return known.server && answer.server_id !== known.server ? 'other_server' : '';
}

/**
 * All of it or nothing, the news of a lost log with it: a phone that dies now still tells.
 * @param {{token: string, name: string, server_id: string, replaces: LostLog | null}} answer
 * @param {string} logId
 */
function keep({ token, name, server_id: server, replaces }, logId) {
  const lost = replaces && replaces.log_id !== logId ? { lost_log: replaces } : {};
  return keepFacts({ token, phone_name: name, server, access: '', ...lost });
}
