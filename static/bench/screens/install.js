/** How the app gets onto the home screen of this kind of phone, and why it should. */
import { isOffered, takeOffer } from '../install-offer.js';
import { button, el } from '../parts/el.js';
import { askToPersist, placeHere, platformHere } from '../place.js';
import { t } from '../words.js';
import { draw, plainHeader, stayingHere, warning } from './frame.js';

/** @param {string} [said]  what came of the last tap */
export async function installScreen(said = '') {
  const stillHere = stayingHere();
  const place = await placeHere();
  if (!stillHere()) return;
  const looking = place.ruling === 'look';
  draw(
    'install',
    plainHeader(t('Install the app')),
    place.installed ? el('p', { class: 'big' }, t('This is the installed app.')) : null,
    looking ? warning(whyWords(place.ios)) : null,
    place.installed ? null : el('ol', { class: 'steps' }, ...steps().map((step) => el('li', {}, step))),
    el('p', { role: 'status' }, said),
    el(
      'div',
      { class: 'actions' },
      !place.installed && isOffered() ? button('action', t('Install'), install) : null,
      looking && !place.ios ? button('second', t('Ask the browser to keep the log'), keepHere) : null,
      el('a', { class: 'second', href: '#/' }, looking ? t('Only look') : t('Next cups')),
    ),
  );
}

async function install() {
  const stillHere = stayingHere();
  const done = await takeOffer();
  if (stillHere()) await installScreen(done ? t('Now open it from the home screen.') : t('Nothing was installed.'));
}

async function keepHere() {
  const stillHere = stayingHere();
  const kept = await askToPersist();
  if (!stillHere()) return;
  await installScreen(kept ? t('The browser keeps the log. Weighing is possible in this tab, too.') : t('The browser said no.'));
}

/** @param {boolean} ios */
function whyWords(ios) {
  return ios
    ? t('Nothing is weighed in a tab: this browser clears it after seven days without a visit. The app on the home screen keeps it.')
    : t('Nothing is weighed in this tab: the browser does not promise to keep it, and a private window never does.');
}

function steps() {
  const open = t('Open Scale Companion from the home screen and pair it there: what was done in a tab does not come along.');
  if (isOffered()) return [t('Tap Install below and say yes.'), open];
  /** @type {Record<string, string[]>} */
  const words = {
    ios: [
      t('Tap Share: the square with an arrow upwards.'),
      t('Scroll down and tap Add to Home Screen.'),
      t('If it asks, leave Open as Web App on. Tap Add.'),
      open,
    ],
    android: [
      t('Open the menu of the browser: the three dots.'),
      t('Tap Add to Home screen, then Install.'),
      open,
    ],
    firefox_android: [
      t('Open the menu of the browser: the three dots.'),
      t('Tap Add app to Home screen, or Install.'),
      open,
    ],
    desktop: [
      t('Look for the sign Install at the end of the address bar, or for Install in the menu of the browser.'),
      t('Some browsers say Add to Dock. Where there is neither, use another browser.'),
      t('Open Scale Companion like any other program and pair it there.'),
    ],
  };
  return words[platformHere()];
}
