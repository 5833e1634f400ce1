/** Scrapping a cup: how, and why. */
import { button, el } from '../parts/el.js';
import { t } from '../words.js';
import { cupHeader, draw, go, warning } from './frame.js';


/**
 * Scrapping: how, and why.
 * @param {string} code
 * @param {(reason: string) => Promise<boolean>} scrap
 * @param {import('../shapes.js').KnownCup} known
 */
export function scrapScreen(code, scrap, known) {
  const reasons = [t('off ratio'), t('warm or thick'), t('spilled or dirty'), t('not needed'), t('other')];
  draw(
    'scrap',
    cupHeader(known, 3),
    el('h1', {}, t('Scrap cup %(code)s', { code })),
    warning(t('Let it set in a shallow open tray on a surface that cannot burn, in view. Not in a bin. Do not carry a warm cup. See the safety data sheet and local rules.')),
    el('h2', {}, t('Why?')),
    el(
      'div',
      { class: 'cards' },
      ...reasons.map((reason) =>
        button('card', reason, async () => {
          if (await scrap(reason)) go('');
        }),
      ),
    ),
    el('a', { class: 'second', href: `#/weigh/${code}` }, t('Back')),
  );
}
