/**
 * Codes on cups, containers and parts: five characters and a check character.
 *
 * The alphabet leaves out 0, 1, I and O. The check is ISO 7064 MOD 37,36. Read aloud or typed with
 * wet gloves a code may come back in lower case, with spaces, with 1 or I for L: that is forgiven.
 * Look-alikes are proposed, never applied.
 */
import { OutOfRange } from './errors.js';

/** @typedef {import('../types.js').ScannedCode} ScannedCode */
/** @typedef {import('../types.js').TypedCode} TypedCode */

export const ALPHABET = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';
export const PAYLOAD_LENGTH = 5;
export const CODE_LENGTH = PAYLOAD_LENGTH + 1;

const ISO_7064 = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';
/** @type {Readonly<Record<string, string>>} */
const LOOK_ALIKES = Object.freeze({ 5: 'S', S: '5', 2: 'Z', Z: '2', 8: 'B', B: '8' });
/** @type {Readonly<Record<string, string>>} */
const PLACES = Object.freeze({ C: 'cup', L: 'container', P: 'part' });
// The host may be any: a label outlives the name of the server that printed it.
const ADDRESS =
  /^[Hh][Tt][Tt][Pp][Ss]?:\/\/[^\/?#\s\x1c-\x1f\x85]{1,253}\/(?<place>[CLPclp])\/(?<code>[0-9A-Za-z]{6})$/u;
const BARE = /^(?<code>[0-9A-Za-z]{6})$/;
// Exactly what the server splits at: unlike \s it takes the separators 1C to 1F and 85, not FEFF.
const BLANKS = /[\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+/g;

/**
 * @param {string} text
 * @param {string} alphabet
 * @returns {boolean}
 */
function onlyOf(text, alphabet) {
  for (const character of text) {
    if (!alphabet.includes(character)) return false;
  }
  return true;
}

/**
 * Check character of a text of digits and capital letters.
 * @param {string} payload at least one of 0-9 A-Z
 * @returns {string} one of 0-9 A-Z
 * @throws {OutOfRange} the payload is empty or holds another character
 */
export function checkCharacter(payload) {
  if (!payload || !onlyOf(payload, ISO_7064)) {
    throw new OutOfRange('payload', payload, 'digits and capital letters');
  }
  let carry = 36;
  for (const character of payload) {
    carry = (carry + ISO_7064.indexOf(character)) % 36 || 36;
    carry = (carry * 2) % 37;
  }
  return ISO_7064.charAt((37 - carry) % 36);
}

/**
 * Whether the last character of any code is its ISO 7064 check; lower case is not valid.
 * @param {string} code
 * @returns {boolean}
 */
export function isValid(code) {
  if (code.length < 2 || !onlyOf(code, ISO_7064)) return false;
  return checkCharacter(code.slice(0, -1)) === code.slice(-1);
}

/**
 * Whether this is a code of ours: six characters of our alphabet with a true check.
 * @param {string} code
 * @returns {boolean}
 */
export function isLabel(code) {
  return code.length === CODE_LENGTH && onlyOf(code, ALPHABET) && isValid(code);
}

/**
 * @param {Partial<TypedCode>} part
 * @returns {TypedCode}
 */
function typedCode(part) {
  return { code: '', problem: '', proposals: [], ...part };
}

/**
 * Read a typed code.
 * @param {string} typed what the person entered
 * @returns {TypedCode} the code, or a problem: `length`, `zero_or_o` (the letter O and the digit 0
 *   are in no code), `character` or `check`; with `check` the look-alike codes that pass
 */
export function forgive(typed) {
  let text = typed.replace(BLANKS, '').replaceAll('-', '').toUpperCase();
  text = text.replaceAll('1', 'L').replaceAll('I', 'L');
  if (text.includes('0') || text.includes('O')) return typedCode({ problem: 'zero_or_o' });
  if (!onlyOf(text, ALPHABET)) return typedCode({ problem: 'character' });
  if (text.length !== CODE_LENGTH) return typedCode({ problem: 'length' });
  if (isValid(text)) return typedCode({ code: text });
  return typedCode({ problem: 'check', proposals: lookAlikeCodes(text) });
}

/**
 * Read the text of a pattern: an address of ours on any host, or the bare code.
 * @param {string} text what the pattern holds
 * @returns {ScannedCode} the code, or a problem: `foreign` (not the form of a label of ours) or
 *   `check` (its form, but the check character does not fit)
 */
export function scanned(text) {
  const found = (ADDRESS.exec(text) ?? BARE.exec(text))?.groups;
  if (!found) return { code: '', place: '', problem: 'foreign' };
  const code = found.code.toUpperCase();
  if (!isLabel(code)) return { code: '', place: '', problem: 'check' };
  return { code, place: PLACES[(found.place ?? '').toUpperCase()] ?? '', problem: '' };
}

/**
 * @param {string} text
 * @returns {string[]}
 */
function lookAlikeCodes(text) {
  let candidates = [''];
  for (const character of text) {
    const options = character + (LOOK_ALIKES[character] ?? '');
    candidates = candidates.flatMap((start) => [...options].map((option) => start + option));
  }
  return candidates.filter((code) => code !== text && isValid(code));
}
