/** What is wrong with a figure, in words: the field, the figure, and what is allowed. */
import { figure, t } from '../words.js';

/** @typedef {import('../types.js').ReadingCheck} ReadingCheck */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */

const LONGEST_SHOWN = 12;

/**
 * A figure that is none.
 * @param {string} problem  of parseEntry
 * @param {string} typed
 */
export function entryProblemWords(problem, typed) {
  const shown = typed.length > LONGEST_SHOWN ? `${typed.slice(0, LONGEST_SHOWN)}…` : typed;
  /** @type {Record<string, string>} */
  const words = {
    empty: t('Type the figure that stands on the display.'),
    separators: t('“%(typed)s” has two marks. Type one decimal mark and no thousands mark.', { typed: shown }),
    negative: t('“%(typed)s” is below zero. A cup on the scale reads 0 or more.', { typed: shown }),
    long: t('“%(typed)s” has too many digits. A display shows at most seven before the decimal mark.', { typed: shown }),
    character: t('“%(typed)s” is not a figure. Digits and one decimal mark are allowed.', { typed: shown }),
  };
  return words[problem] ?? problem;
}

/**
 * A reading this scale cannot show, or one that does not fit.
 * @param {ReadingCheck} check
 * @param {string} typed
 * @param {ScaleCard} scale
 */
export function readingProblemWords(check, typed, scale) {
  const limit = figure(check.limit);
  const proposal = figure(check.proposal);
  const code = scale.code;
  /** @type {Record<string, string>} */
  const words = {
    ounces: t('%(typed)s looks like ounces: %(proposal)s g. Set the scale to grams and read again.', { typed, proposal }),
    tenfold: t('%(typed)s: did the decimal mark slip? It should be near %(proposal)s. Type what stands on the display.', { typed, proposal }),
    decimals: t('Scale %(code)s shows steps of %(limit)s g. Type all its digits, also a last 0. Or is this another scale?', { code, limit }),
    step: t('Scale %(code)s shows steps of %(limit)s g. %(typed)s is not one of them.', { code, limit, typed }),
    capacity: t('%(typed)s is above what scale %(code)s can weigh, %(limit)s g.', { typed, code, limit }),
    tared: t('%(typed)s is near what was to be added, and not what should stand there after %(limit)s. Was tare pressed before it was poured?', { typed, limit }),
    stick: t('%(typed)s is 3 to 6 g off %(proposal)s: as much as a stick. It must be in or out at every reading as it was with the empty cup.', { typed, proposal }),
    zero_gross: t('A scale that is switched on with the cup on it shows 0. That is no gross mass: take the cup off, switch on empty, then set it down.'),
    light: t('%(typed)s is less than the %(limit)s g that were on the scale. Was it switched on empty, and does it stand level?', { typed, limit }),
    changed: t('Nothing was poured, so it should show %(proposal)s, not %(typed)s. If something was poured, go back and say what.', { typed, proposal }),
    below: t('%(typed)s is below the last reading, %(limit)s. Read again, or say that tare was pressed.', { typed, limit }),
  };
  return words[check.problem] ?? entryProblemWords(check.problem, typed);
}
