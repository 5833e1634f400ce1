/** A can that was scanned first is held against the cup that is scanned next. */
import { canInHand, takeInHand } from '../hand.js';
import { ask } from '../parts/notice.js';
import { crewIsFresh } from '../record.js';
import { t } from '../words.js';
import { checkedCan } from './cans.js';
import { goInstead } from './frame.js';
import { openHardener } from './hardener.js';
import { prepare } from './weigh.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/**
 * A can of hardener is in the hand: the wrong one stops over the cup, the right one may be opened.
 * @param {KnownCup} known
 * @returns {Promise<boolean>} whether the screen has gone on
 */
export async function heldAgainst(known) {
  const can = await canInHand();
  const weighing = known.cup?.state === 'a_waiting' && can && crewIsFresh() ? prepare(known, '') : null;
  if (!can || !weighing || weighing.advice.action !== 'open_hardener') return false;
  if (can.material !== weighing.system.hardener) {
    await checkedCan(weighing, 'b', can);
    await takeInHand('');
    goInstead(`weigh/${known.code}`);
    return true;
  }
  const { value } = await ask({
    title: t('Open hardener %(word)s for this cup?', { word: weighing.system.hardener_word }),
    lines: [t('Can %(can)s, lot %(lot)s, into cup %(code)s. The pot clock starts now.', { can: can.code, lot: can.lot, code: known.code })],
    answers: [
      { text: t('Open it'), value: true, main: true },
      { text: t('Not yet'), value: false },
    ],
  });
  if (value) await openHardener(weighing, can);
  goInstead(`weigh/${known.code}`);
  return true;
}
