/**
 * UUID version 7 (RFC 9562 section 5.7). It identifies a row and never orders it.
 * @param {number} nowMs  Unix time, milliseconds
 * @param {Uint8Array} random  at least 10 random bytes
 * @returns {string}
 */
export function eventId(nowMs, random) {
  const time = nowMs.toString(16).padStart(12, '0');
  const hex = [...random.slice(0, 10)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  const variant = ((parseInt(hex.slice(3, 5), 16) & 0x3f) | 0x80).toString(16);
  return [
    time.slice(0, 8),
    time.slice(8, 12),
    `7${hex.slice(0, 3)}`,
    `${variant}${hex.slice(5, 7)}`,
    hex.slice(7, 19).padEnd(12, '0'),
  ].join('-');
}
