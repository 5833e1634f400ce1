/** What is most in need of a person on Next cups: one thing, or nothing. */

const OLD_MS = 24 * 3600 * 1000;
const MANY = 50;

/**
 * @typedef {'' | 'revoked' | 'other_log' | 'not_paired' | 'certificate_ended' | 'unsent' |
 *   'looking' | 'never_paired'} Alert
 * @typedef {{access: string, problem: string, certificate_ended: boolean, unsent: number,
 *   oldest_at: string, dismissed_on: string, today: string, now_ms: number, looking: boolean,
 *   never_paired: boolean}} Situation
 * `access`: what the server last said against this phone; `problem`: of the last turn;
 * `oldest_at`: moment of the oldest unsent row; days as in ISO 8601
 */

/**
 * @param {Situation} situation
 * @returns {Alert}
 */
export function alertOf(situation) {
  const { access, problem, looking } = situation;
  if (access === 'revoked') return 'revoked';
  // Where nothing may be weighed nothing can be paired either.
  if (!looking && (access === 'not_paired' || access === 'other_log')) return access;
  if (problem === 'not_reached' && situation.certificate_ended) return 'certificate_ended';
  if (isAtRisk(situation)) return 'unsent';
  if (looking) return 'looking';
  return situation.never_paired ? 'never_paired' : '';
}

/** @param {Situation} situation */
function isAtRisk({ unsent, oldest_at, dismissed_on, today, now_ms }) {
  if (unsent === 0 || dismissed_on === today) return false;
  return unsent >= MANY || now_ms - Date.parse(oldest_at) > OLD_MS;
}
