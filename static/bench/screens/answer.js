/** What a code that was scanned or typed leads to, by what it was asked for. */
import { canLabelled, cupLabelled } from '../cups.js';
import { t } from '../words.js';
import { bind } from './bind.js';
import { checkedCan, takeFrom } from './cans.js';
import { goInstead } from './frame.js';
import { openHardener } from './hardener.js';
import { pairWith } from './pair.js';
import { prepare } from './weigh.js';

/**
 * What a code is asked for: `` any code of the shop, `a` or `b` the can of a part, `label` a new
 * label for a cup, `pair` the pairing code of the office; and the cup it is asked for.
 * @typedef {{name: string, cup: string}} Purpose
 */

/**
 * @param {string[]} rest  of the address
 * @returns {Purpose}
 */
export function purposeOf([name = '', cup = '']) {
  return { name, cup };
}

/** @param {Purpose} purpose */
export function purposeWords({ name, cup }) {
  /** @type {Record<string, string>} */
  const words = {
    a: t('The can of part A, for cup %(code)s', { code: cup }),
    b: t('The can of hardener, for cup %(code)s', { code: cup }),
    label: t('The new label of cup %(code)s', { code: cup }),
    pair: t('The pairing code on the screen of the office'),
  };
  return words[name] ?? t('A cup, a can or a part');
}

/** @param {Purpose} purpose  @returns {string} where the way back leads */
export function backFrom({ name, cup }) {
  if (name === 'label') return `story/${cup}`;
  if (name === 'pair') return 'pair';
  return name ? `weigh/${cup}` : '';
}

/**
 * Act on a pairing code.
 * @param {Purpose} purpose
 * @param {string} code
 * @returns {string} why it does not serve here; empty where the screen has gone on
 */
export function answerPairing({ name }, code) {
  if (name !== '' && name !== 'pair') return t('This is a pairing code of the office, not a label.');
  pairWith(code, name === 'pair');
  return '';
}

/**
 * Act on a code of ours.
 * @param {Purpose} purpose
 * @param {string} code
 * @param {string} place  what its label says it stands on; may be empty
 * @returns {Promise<string>} why it does not serve here; empty where the screen has gone on
 */
export async function answer(purpose, code, place) {
  if (purpose.name === 'a' || purpose.name === 'b') return takeCan(purpose, code);
  if (purpose.name === 'pair') return t('%(code)s is a label. Scan the pairing code on the screen of the office.', { code });
  if (purpose.name === 'label') return bind(cupLabelled(purpose.cup), code);
  goInstead(['found', code, place].filter(Boolean).join('/'));
  return '';
}

/**
 * @param {Purpose} purpose
 * @param {string} code
 */
async function takeCan({ name, cup }, code) {
  const can = canLabelled(code);
  if (!can) return noCanWords(code);
  const known = cupLabelled(cup);
  const weighing = known && prepare(known, '');
  if (!weighing) return t('Cup %(code)s is not known here.', { code: cup });
  if (name === 'b') {
    // Another window may have opened it since: then there is nothing to open.
    const waits = weighing.advice.action === 'open_hardener';
    if (waits && !(await openHardener(weighing, can))) return t('Nothing was opened. Scan another can.');
    goInstead(`weigh/${cup}`);
    return '';
  }
  if (can.material !== weighing.system.resin) {
    await checkedCan(weighing, 'a', can);
    return '';
  }
  await takeFrom(can);
  goInstead(`weigh/${cup}`);
  return '';
}

/** @param {string} code */
function noCanWords(code) {
  return cupLabelled(code)
    ? t('%(code)s is the label of a cup, not of a can.', { code })
    : t('No can %(code)s is on this phone. If it is new, connect once, or say that it is not on record.', { code });
}
