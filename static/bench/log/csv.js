/** The log as it travels: RFC 4180, CRLF, UTF-8, a header row. */
import { COLUMNS } from '../trade/rows.js';

/** @typedef {import('../types.js').Row} Row */

/**
 * @param {Row[]} rows
 * @returns {string}
 */
export function writeLog(rows) {
  const extra = [...new Set(rows.flatMap((row) => row.extra.map(([name]) => name)))];
  const lines = [[...COLUMNS, ...extra], ...rows.map((row) => fields(row, extra))];
  return lines.map((line) => `${line.map(quoted).join(',')}\r\n`).join('');
}

/**
 * @param {Row} row
 * @param {string[]} extra
 * @returns {string[]}
 */
function fields(row, extra) {
  const kept = new Map(row.extra);
  const known = COLUMNS.map((name) => String(row[/** @type {keyof Row} */ (name)]));
  return [...known, ...extra.map((name) => kept.get(name) ?? '')];
}

/** @param {string} field */
function quoted(field) {
  return /[",\r\n]/.test(field) ? `"${field.replaceAll('"', '""')}"` : field;
}
