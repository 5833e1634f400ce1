/** A blank label is put on a cup: planned, or started under another one. */
import { canLabelled, crew, cupLabelled, partLabelled, scaleNamed } from '../cups.js';
import { ask } from '../parts/notice.js';
import { crewIsFresh } from '../record.js';
import { t } from '../words.js';
import { startRows } from './drafts.js';
import { go, goInstead } from './frame.js';
import { keep } from './keep.js';

/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/**
 * @param {KnownCup | null} known  the cup
 * @param {string} code  of the new label
 * @returns {Promise<string>} why this label cannot be put on; empty where it was, or nothing is said
 */
export async function bind(known, code) {
  if (!known) return t('This cup is not known here.');
  const taken = takenWords(code);
  if (taken) return taken;
  const scale = known.scale ?? scaleNamed(crew()?.scale ?? '');
  if (known.rows.length === 0 && (!scale || !crewIsFresh())) {
    go(`crew/found/${code}`);
    return '';
  }
  const { value } = await ask({
    title: t('Is label %(code)s on the cup now?', { code }),
    lines: [
      t('It takes the place of %(before)s. Cover or take off the old label, so that nobody scans it.', { before: known.code }),
    ],
    answers: [
      { text: t('No'), value: false },
      { text: t('Yes, it is on the cup'), value: true, main: true },
    ],
  });
  if (!value) return t('Nothing was changed.');
  // Another window, or rows that arrived, may have used the label since it was asked.
  const meanwhile = takenWords(code);
  if (meanwhile) return meanwhile;
  const placed = { ...known, scale };
  /** @type {Draft[]} */
  const begun = known.rows.length ? [] : startRows(placed);
  if (await keep(placed, [...begun, { kind: 'labelled', cup: code, target: known.code }])) {
    goInstead(`weigh/${code}`);
  }
  return '';
}

/**
 * Why a label is not free; empty if nothing here stands against it.
 * @param {string} code
 */
export function takenWords(code) {
  if (cupLabelled(code)) return t('Label %(code)s is on another cup already. Take a blank one.', { code });
  if (canLabelled(code)) return t('%(code)s is the label of a can. Take a blank one.', { code });
  if (partLabelled(code)) return t('%(code)s is the label of a part. Take a blank one.', { code });
  return '';
}
