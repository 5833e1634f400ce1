/** Scrapping a cup: why, and where it sets. */
import { cupLabelled } from '../cups.js';
import { button, el } from '../parts/el.js';
import { t } from '../words.js';
import { cupHeader, draw, go, goInstead, warning } from './frame.js';
import { keep } from './keep.js';
import { leftToSet, settingPlaces } from './watch.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/** @param {string} code */
export function scrapScreen(code) {
  const known = cupLabelled(code);
  if (!known || known.rows.length === 0) return goInstead('');
  const reasons = [t('off ratio'), t('warm or thick'), t('spilled or dirty'), t('not needed'), t('other')];
  draw(
    'scrap',
    cupHeader(known, 3),
    el('h1', {}, t('Scrap cup %(code)s', { code })),
    cautionOf(known),
    el('h2', {}, t('Why?')),
    el('div', { class: 'cards' }, ...reasons.map((reason) => button('card', reason, () => why(known, reason)))),
    el('a', { class: 'second', href: `#/weigh/${code}` }, t('Back')),
  );
}

/** @param {KnownCup} known */
function cautionOf({ cup }) {
  return cup && !cup.first_contact_at
    ? warning(t('Part A alone does not set: unmixed parts are hazardous waste in many places. Ask your local waste office; see the safety data sheet.'))
    : warning(t('Let it set in a shallow open tray on a surface that cannot burn, in view. Not in a bin. Do not carry a warm cup. See the safety data sheet and local rules.'));
}

/**
 * A cup with hardener in it has to set somewhere; one without is at its end.
 * @param {KnownCup} known
 * @param {string} reason
 */
async function why(known, reason) {
  if (known.cup?.first_contact_at) return placeScreen(known, reason);
  if (await keep(known, [{ kind: 'scrapped', note: reason }])) go('');
}

/**
 * @param {KnownCup} known
 * @param {string} reason
 */
function placeScreen(known, reason) {
  const scrap = async (/** @type {string} */ where) => {
    const rows = [{ kind: 'scrapped', note: reason }, ...(known.cup ? leftToSet(known.cup, where) : [])];
    if (await keep(known, rows)) go(`weigh/${known.code}`);
  };
  draw(
    'scrap',
    cupHeader(known, 3),
    el('h1', {}, t('Where does it set?')),
    cautionOf(known),
    el('div', { class: 'cards' }, ...settingPlaces().map((where) => button('card', where, () => scrap(where)))),
    button('second', t('Back'), () => scrapScreen(known.code)),
  );
}
