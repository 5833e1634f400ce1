/**
 * Numbers as people type them and displays show them.
 *
 * A typed figure keeps its text: its decimals are its resolution. Comma and point both mark
 * decimals; a second mark of any kind is refused, so nothing is ever guessed between decimal and
 * thousands. Arabic digits are mapped when typed; on the wire only ASCII digits and a point pass.
 */
import { MAX_INTEGER_DIGITS, STEP_GUARD } from './constants.js';
import { OutOfRange } from './errors.js';

/** @typedef {import('../types.js').Entry} Entry */

/** Decimals the wire takes; no display shows more. */
const MAX_DECIMALS = 6;
const WIRE = /^-?[0-9]{1,9}(\.[0-9]{1,6})?$/;
const ENTRY = /^[0-9]+(\.[0-9]+)?$/;
const SEPARATORS = /[.,\u066b\u066c' \u00a0\u202f]/g;
const ARABIC_DIGIT = /[\u0660-\u0669\u06f0-\u06f9]/g;
const DECIMAL_MARK = /[,\u066b]/g;

/**
 * @param {string} text
 * @returns {string}
 */
function toAscii(text) {
  return text
    .replace(ARABIC_DIGIT, (digit) => String(digit.charCodeAt(0) & 0xf))
    .replace(DECIMAL_MARK, '.');
}

/**
 * Read a figure a person typed in any of our locales.
 * @param {string} typed what was entered; spaces around it do not count
 * @returns {Entry} the figure, or a problem: `empty`, `separators` (more than one), `negative`,
 *   `long` or `character`
 */
export function parseEntry(typed) {
  const text = typed.replace(/^ +/, '').replace(/ +$/, '');
  if (!text) return { value: '', problem: 'empty' };
  if (text.startsWith('-') || text.startsWith('\u2212')) return { value: '', problem: 'negative' };
  if ((text.match(SEPARATORS) ?? []).length > 1) return { value: '', problem: 'separators' };
  const plain = toAscii(text);
  if (!ENTRY.test(plain)) return { value: '', problem: 'character' };
  const [whole = '', decimals = ''] = plain.split('.');
  if (whole.length > MAX_INTEGER_DIGITS || decimals.length > MAX_DECIMALS) {
    return { value: '', problem: 'long' };
  }
  return { value: plain, problem: '' };
}

/**
 * The figure of an entry as a number.
 * @param {Entry} entry an entry without a problem
 * @returns {number}
 */
export function entryNumber(entry) {
  return Number(entry.value);
}

/**
 * Digits after the point of a figure written as text.
 * @param {string} value
 * @returns {number}
 */
export function decimalsOf(value) {
  const point = value.indexOf('.');
  return point < 0 ? 0 : value.length - point - 1;
}

/**
 * Digits after the point of an entry.
 * @param {Entry} entry
 * @returns {number}
 */
export function entryDecimals(entry) {
  return decimalsOf(entry.value);
}

/**
 * Whether a text is a number the wire accepts: ASCII digits, one point, nothing else.
 * @param {string} text
 * @returns {boolean}
 */
export function isWireNumber(text) {
  return WIRE.test(text);
}

/**
 * Nearest figure a display of this step can show, grams; halves go up.
 * @param {number} valueG
 * @param {number} stepG
 * @returns {number}
 */
export function toStep(valueG, stepG) {
  return wholeSteps(Math.floor(valueG / stepG + 0.5)) * stepG;
}

/**
 * Lowest and highest display inside a window, or null where no step falls into it.
 * @param {number} lowG lower limit, grams
 * @param {number} highG upper limit, grams
 * @param {number} stepG display step, grams, > 0
 * @returns {[number, number] | null} both limits rounded inwards to whole steps, grams
 */
export function stepInside(lowG, highG, stepG) {
  const lowSteps = wholeSteps(Math.ceil(lowG / stepG - STEP_GUARD));
  const highSteps = wholeSteps(Math.floor(highG / stepG + STEP_GUARD));
  return lowSteps > highSteps ? null : [lowSteps * stepG, highSteps * stepG];
}

/**
 * A mass that must not be fallen short of, in tenths of a gram, rounded up.
 * @param {number} massG
 * @returns {string}
 */
export function atLeastG(massG) {
  return fixed(Math.ceil(massG * 10 - STEP_GUARD) / 10, 1);
}

/**
 * A mass that must not be gone beyond, in tenths of a gram, rounded down.
 * @param {number} massG
 * @returns {string}
 */
export function atMostG(massG) {
  return fixed(Math.floor(massG * 10 + STEP_GUARD) / 10, 1);
}

/**
 * A count of steps has no negative zero.
 * @param {number} steps
 * @returns {number}
 */
function wholeSteps(steps) {
  return steps === 0 ? 0 : steps;
}

/**
 * Write a figure with so many decimals and a point; never a negative zero.
 * @param {number} value below 1e21 in size
 * @param {number} decimals 0 to 60
 * @returns {string}
 * @throws {OutOfRange} decimals is negative
 */
export function fixed(value, decimals) {
  if (decimals < 0) throw new OutOfRange('decimals', decimals, '0 or more');
  const text = halfToEven(Math.abs(value), decimals);
  return value < 0 && /[1-9]/.test(text) ? `-${text}` : text;
}

/**
 * `toFixed` rounds the exact binary value as the server does, but sends an exact half up where the
 * server takes the even digit (0.125 becomes 0.13 here and 0.12 there). Forty more digits show an
 * exact half for certain: the value of a double cannot come nearer to one without being it.
 * @param {number} size a figure >= 0
 * @param {number} decimals
 * @returns {string}
 */
function halfToEven(size, decimals) {
  const exact = size.toFixed(decimals + 40);
  const cut = exact.length - 40;
  const lower = exact.slice(0, decimals === 0 ? cut - 1 : cut);
  const isHalf = /^50*$/.test(exact.slice(cut));
  return isHalf && /[02468]$/.test(lower) ? lower : size.toFixed(decimals);
}
