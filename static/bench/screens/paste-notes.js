/** What to mind about the paste of a cup, and what is wrong with it. */
import { fixed } from '../trade/numbers.js';
import { netOf } from '../trade/weighing.js';
import { figure, t } from '../words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/**
 * @param {Weighing} weighing
 * @returns {string[]}
 */
export function pasteNotes({ advice, cup, additive }) {
  if (!additive) return [];
  const { code, share_pct: share, cap_pct: cap } = additive;
  const there_g = netOf(cup.pours, code);
  const words = {
    code,
    share: figure(String(share)),
    cap: figure(String(cap ?? share)),
    paste: figure(fixed(there_g, 1)),
    part_a: figure(fixed(cup.part_a_g, 1)),
  };
  const isPouring = advice.component === code;
  const notes = [];
  if (isPouring) {
    notes.push(t('Stir it in without streaks before the hardener. See the data sheet.'));
  }
  if (isPouring && advice.cautions.includes('paste_capped')) {
    notes.push(t('The plan asks for %(share)s per cent of %(code)s, its card allows %(cap)s: poured is what the card allows.', words));
  }
  if (advice.cautions.includes('paste_over_cap')) {
    notes.push(t('%(paste)s g of %(code)s in %(part_a)s g A is more than the %(cap)s per cent its card allows. It may cure soft: see the data sheet, or scrap it.', words));
  }
  if (advice.cautions.includes('paste_too_late')) {
    notes.push(t('%(code)s is not in this cup, and the hardener is: it is too late for it. Pour none.', words));
  }
  return notes;
}
