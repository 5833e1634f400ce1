/** The one-time code of the office: 26 characters of base32 (RFC 4648, section 6). */

const LENGTH = 26;
const SCANNED = /^PAIR:(?<code>[A-Z2-7]{26})$/;

/**
 * The code in the text of a pattern; empty if it is another text.
 * @param {string} text
 */
export function scannedPairing(text) {
  return SCANNED.exec(text)?.groups?.code ?? '';
}

/**
 * Read a typed code; case, spaces and dashes are forgiven.
 * @param {string} typed
 * @returns {{code: string, problem: '' | 'character' | 'length', length: number, wrong: string}}
 *   `length`: characters typed; `wrong`: the first one that is in no code
 */
export function typedPairing(typed) {
  const plain = typed.replace(/[\s\p{Cf}\p{Pd}]/gu, '').toUpperCase().replace(/^PAIR:/, '');
  const characters = [...plain];
  const wrong = characters.find((character) => !/^[A-Z2-7]$/.test(character)) ?? '';
  const problem = wrong ? 'character' : characters.length === LENGTH ? '' : 'length';
  return { code: problem ? '' : plain, problem, length: characters.length, wrong };
}
