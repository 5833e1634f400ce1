/** What is due, above whatever screen is open: in words, with the way to where one acts. */
import { silence } from '../alarms.js';
import { button, el } from '../parts/el.js';
import { tempoShape } from '../parts/tempo-shape.js';
import { t, tn } from '../words.js';
import { clockActWords, clockAddress, clockTitle } from './clock-words.js';

/** @typedef {import('../types.js').Clock} Clock */

/** Clocks of resin that meets hardener. */
const HOT = new Set(['pot', 'scrape', 'mixing']);

/** Resin that meets hardener first, then what passed last. @param {Clock} one  @param {Clock} other */
function byUrgency(one, other) {
  return Number(HOT.has(other.kind)) - Number(HOT.has(one.kind)) || (one.next_at < other.next_at ? 1 : -1);
}

/** @param {Clock[]} due */
export function sayDue(due) {
  const place = /** @type {HTMLElement} */ (document.getElementById('alarm'));
  const [first, ...others] = due.filter((clock) => !isShown(clock) && (HOT.has(clock.kind) || !isBusy())).sort(byUrgency);
  if (!first) return place.replaceChildren();
  place.replaceChildren(
    el('a', { class: 'alarm-link', href: `#/${clockAddress(first)}` }, tempoShape(first.tempo), el('span', {}, el('strong', {}, clockTitle(first)), ' ', clockActWords(first))),
    el(
      'div',
      { class: 'quiet-row' },
      others.length ? el('a', { class: 'quiet', href: '#/clocks' }, tn('%(num)s more', '%(num)s more', others.length)) : null,
      button('quiet', t('Silence it'), () => silence(first).then(() => sayDue(others))),
    ),
  );
}

/** In the middle of something only what cannot wait is said: one thing per screen. */
function isBusy() {
  return !/^(#\/?)?($|phone|sheets|sheet\/|story|air)/.test(location.hash);
}

/** On the screen of its own cup a clock is said already. @param {Clock} clock */
function isShown(clock) {
  const here = location.hash.replace(/^#\/?/, '');
  return here === clockAddress(clock) || here === 'clocks' || here.startsWith('resume');
}

/** @param {Clock} clock */
export function alarmText(clock) {
  return `${clockTitle(clock)}: ${clockActWords(clock)}`;
}
