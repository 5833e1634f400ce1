/** A mix that is too large for one cup: mixed fully first, then divided at once, under new codes. */
import { cupLabelled, startedCups } from '../cups.js';
import { takeCodes } from '../log/bench-log.js';
import { button, el } from '../parts/el.js';
import { t } from '../words.js';
import { cupHeader, draw, go, plainHeader, warning } from './frame.js';
import { judged, overLargestWords } from './judged.js';
import { keep } from './keep.js';
import { potClock, scrapFirst } from './pot.js';
import { pourKeys } from './poured.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../types.js').Cup} Cup */

/** @param {Weighing} weighing */
export function divideStep(weighing) {
  const { known } = weighing;
  const problem = el('p', { class: 'problem', role: 'alert' });
  const into = async (/** @type {number} */ count) => {
    const divided = await divide(weighing, count);
    if (!divided) problem.textContent = t('This phone has no cup codes left. Connect to the shop once, or spread the mix now.');
  };
  judged(
    weighing,
    [
      el('h2', {}, t('Divide it now')),
      el('p', {}, overLargestWords(weighing)),
      potClock(weighing),
    ],
    [
      problem,
      scrapFirst(weighing),
      button('action', t('Into two cups'), () => into(2)),
      button('second', t('Into one shallow tray'), () => into(1)),
      ...pourKeys(weighing, 'second'),
      el('a', { class: 'quiet', href: `#/scrap/${known.code}` }, t('Scrap this cup')),
    ],
  );
}

/**
 * Divide a mix: its cup ends, and each share begins as a cup of its own, all of it or nothing.
 * @param {Weighing} weighing
 * @param {number} count
 * @returns {Promise<boolean>} false where this phone has too few codes
 */
async function divide({ known, cup }, count) {
  const codes = await takeCodes(count);
  if (codes.length < count) return false;
  const shares = codes.flatMap((code) => shareRows(code, known, cup));
  if (await keep(known, [{ kind: 'divided', note: codes.join(' ') }, ...shares])) go(`divided/${known.code}`);
  return true;
}

/**
 * How a share begins. It names the lots of its mix, so that whoever asks for a lot finds it.
 * @param {string} code
 * @param {KnownCup} known
 * @param {Cup} cup
 * @returns {Draft[]}
 */
function shareRows(code, known, cup) {
  const lots = cup.lots.map(({ component, lot, container }) => ({
    kind: 'lot_used',
    cup: code,
    component,
    lot,
    container,
    note: `of the mix in ${known.code}`,
  }));
  return [{ kind: 'cup_started', begins_share: true, cup: code, target: known.code }, ...lots];
}

/**
 * The shares of a divided mix, as this phone knows them.
 * @param {KnownCup} known
 * @returns {KnownCup[]}
 */
export function sharesOf({ rows }) {
  const divisions = new Set(rows.filter((row) => row.kind === 'divided').map((row) => row.event_id));
  return startedCups()
    .filter((share) => divisions.has(share.rows[0].refers_to))
    .sort((one, other) => (one.code < other.code ? -1 : 1));
}

/** @param {string} code  of the cup that was divided */
export function dividedScreen(code) {
  const known = cupLabelled(code);
  const shares = known ? sharesOf(known) : [];
  if (!known || shares.length === 0) return go(`story/${code}`);
  const tray = shares.length === 1;
  draw(
    'divided',
    plainHeader(t('Divided')),
    cupHeader(known, 3),
    el('h1', {}, tray ? t('Pour it into a shallow tray and write this code on it') : t('Pour about half into each and write these codes on them')),
    el(
      'ul',
      { class: 'cards share-codes' },
      ...shares.map((share) =>
        el(
          'li',
          {},
          el('a', { class: 'card', href: `#/weigh/${share.code}` }, el('span', { class: 'code' }, share.code), el('span', { class: 'card-lines' }, el('strong', {}, t('Use it')))),
          el('a', { class: 'quiet', href: `#/scan/label/${share.code}` }, t('Put on a printed label')),
        ),
      ),
    ),
    warning(t('The same mix, the same pot clock. Use them at once; what is left over sets in view, in a shallow open tray.')),
  );
}
