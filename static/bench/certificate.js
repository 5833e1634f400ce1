/** How long the certificate of the shop's server lasts, by the clock of this phone. */

const DAY_MS = 24 * 3600 * 1000;
/** Days before its end at which it is spoken of, the most urgent first. */
const STEPS = [7, 30, 60];

/**
 * @param {string | undefined} until  RFC 3339 in UTC; empty where the server has none
 * @param {number} now_ms
 * @returns {{ended: boolean, days: number, within: number}} whole days left; `within`: 7, 30 or 60,
 *   0 while there is time or nothing is known
 */
export function certificateLife(until, now_ms) {
  const end_ms = Date.parse(until ?? '');
  if (Number.isNaN(end_ms)) return { ended: false, days: 0, within: 0 };
  const left_ms = end_ms - now_ms;
  const within = STEPS.find((days) => left_ms <= days * DAY_MS) ?? 0;
  return { ended: left_ms <= 0, days: Math.max(0, Math.floor(left_ms / DAY_MS)), within };
}
