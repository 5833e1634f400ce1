/** Keep rows of a cup, or say plainly that they were not kept. */
import { cupLabelled, refresh } from '../cups.js';
import { CupChanged } from '../log/bench-log.js';
import { ask } from '../parts/notice.js';
import { stopSound } from '../parts/sound.js';
import { stopShape } from '../parts/stop-shape.js';
import { write, writeOfShop } from '../record.js';
import { t } from '../words.js';

/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/**
 * @param {KnownCup} known  the cup as the person saw it
 * @param {Draft[]} drafts
 * @returns {Promise<boolean>} whether they are on disk
 */
export async function keep(known, drafts) {
  try {
    await write(known, drafts);
    return true;
  } catch (error) {
    if (error instanceof CupChanged) await sayChanged(known.code, drafts);
    else await sayNotSaved(error);
    return false;
  }
}

/**
 * Keep rows of no cup, or say plainly that they were not kept.
 * @param {Draft[]} drafts
 * @returns {Promise<import('../types.js').Row[]>} the rows as they are on disk; none where they are
 *   not
 */
export async function keepOfShop(drafts) {
  try {
    return await writeOfShop(drafts);
  } catch (error) {
    await sayNotSaved(error);
    return [];
  }
}

/**
 * The cup went on somewhere else. Hardener is never poured a second time as if it were the first.
 * @param {string} code
 * @param {Draft[]} drafts  what was not written
 */
async function sayChanged(code, drafts) {
  await refresh();
  const opens = drafts.some((draft) => draft.kind === 'pour_opened');
  const twice = opens && Boolean(cupLabelled(code)?.cup?.first_contact_at);
  stopSound();
  await ask({
    kind: 'stop',
    shape: stopShape(),
    title: twice ? t('Hardener is already in this cup') : t('This cup has changed'),
    lines: twice
      ? [t('Cup %(code)s was opened for hardener before. Do not pour hardener again.', { code })]
      : [t('Something was written to this cup in another window. Look at it again before you go on.')],
    answers: [{ text: t('Look again'), value: '' }],
  });
}

/** @param {unknown} error */
async function sayNotSaved(error) {
  console.error(error);
  await ask({
    kind: 'stop',
    title: t('Not saved'),
    lines: [t('The phone could not save this reading. Write it down, then share the log from This phone.')],
    answers: [{ text: t('Look again'), value: '' }],
  });
}
