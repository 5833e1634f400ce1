/** Where the app cannot work at all: a certificate this phone does not trust, or none. */
import { el } from '../parts/el.js';
import { stopShape } from '../parts/stop-shape.js';
import { t } from '../words.js';
import { draw } from './frame.js';

/** The warning of the browser was clicked away: the page shows, but no worker may start. */
export function notTrustedScreen() {
  stop(t('Not trusted'), [
    t("This phone does not trust the certificate of the shop's server. Nothing would work here without the network, so nothing is weighed here."),
    t('To click the warning away does not help. The phone has to be told once to trust the shop.'),
  ]);
}

/** Plain http: the browser gives this page neither camera nor worker. */
export function notSecureScreen() {
  stop(t('Not a secure address'), [
    t('This address begins with http. The browser gives it no camera, and nothing would work without the network, so nothing is weighed here.'),
    t('The address of the shop begins with https. Ask the office for it.'),
  ]);
}

/**
 * @param {string} title
 * @param {string[]} lines
 */
function stop(title, [first, ...lines]) {
  const trust = document.querySelector('meta[name="trust-address"]')?.getAttribute('content') ?? '';
  draw(
    'stopped',
    el('div', { class: 'stop-head' }, stopShape(), el('h1', {}, title)),
    el('p', { class: 'instruction' }, first),
    ...lines.map((line) => el('p', {}, line)),
    trust ? null : el('p', {}, t('The office knows how a phone learns to trust the shop.')),
    el(
      'div',
      { class: 'actions' },
      trust ? el('a', { class: 'action', href: trust }, t('Trust the shop')) : null,
      el('a', { class: 'second', href: '/rescue' }, t('Rescue page')),
    ),
  );
}
