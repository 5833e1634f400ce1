/** What every screen has: a place to draw, a way to go on, the header of a cup. */
import { crew, partOf } from '../cups.js';
import { t } from '../words.js';
import { el } from '../parts/el.js';
import { stepWords } from '../step-words.js';
import { whileNotAwake } from '../wake.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/**
 * Draw a screen.
 * @param {string} name  class of the screen
 * @param {...(Node | string | null | false)} children
 */
export function draw(name, ...children) {
  const place = /** @type {HTMLElement} */ (document.getElementById('screen'));
  place.className = `screen ${name}`;
  place.replaceChildren(...children.filter((child) => child !== null && child !== false));
  if (name.startsWith('weigh')) place.append(sleepNote());
}

/** Beside the scale the screen should stay on; where the phone does not let it, it says so. */
function sleepNote() {
  return whileNotAwake(el('p', { class: 'sleep-note' }, t('This phone may switch its screen off: touch it now and then, or set a longer time in its settings.')));
}

/**
 * Whether the person is still where a screen began to be drawn; a late one must not draw over it.
 * @returns {() => boolean}
 */
export function stayingHere() {
  const address = location.hash;
  return () => location.hash === address;
}

/**
 * Go to a screen by its address.
 * @param {string} address  for instance `weigh/7K2QMS`
 */
export function go(address) {
  location.hash = `#/${address}`;
}

/**
 * Go to a screen in place of the one now: the way back does not lead through a scan again.
 * @param {string} address
 */
export function goInstead(address) {
  location.replace(`#/${address}`);
}

/**
 * Header of a cup: its code (opens the story), what it is for, scale and person, how far it is.
 * @param {KnownCup} known
 * @param {number} done  readings taken, 0 to 3
 */
export function cupHeader(known, done) {
  const job = known.rows[0]?.job ?? known.plan?.job ?? '';
  const step = known.rows[0]?.step ?? known.plan?.step ?? '';
  const where = [stepWords(step), known.scale && `${t('scale')} ${known.scale.code}`, crew()?.person];
  const dots = [0, 1, 2].map((index) => (index < done ? '●' : '○')).join('');
  return el(
    'header',
    { class: 'cup-header' },
    el('a', { class: 'code', href: `#/story/${known.code}`, title: t('Cup story') }, known.code),
    el(
      'div',
      { class: 'cup-for' },
      el('strong', {}, job ? partOf(job) : t('No job')),
      el('span', {}, where.filter(Boolean).join(' · ')),
    ),
    el('span', { class: 'dots', role: 'img', 'aria-label': t('%(done)s of 3 readings', { done }) }, dots),
  );
}

/**
 * Header of any other screen.
 * @param {string} title
 * @param {string} [back]  address the back link goes to
 */
export function plainHeader(title, back = '') {
  return el(
    'header',
    { class: 'plain-header' },
    el('a', { class: 'back', href: `#/${back}`, 'aria-label': t('Back') }, '‹'),
    el('h1', {}, title),
  );
}

/** What to do when two open cups carry one label. */
export function twinWords() {
  return t('Another open cup carries this label. Put a new label on one of them before you pour.');
}

/**
 * A line with a triangle and an exclamation mark.
 * @param {...(Node | string)} text
 */
export function warning(...text) {
  return el('p', { class: 'warning' }, el('span', { class: 'triangle', 'aria-hidden': 'true' }, '⚠'), el('span', {}, ...text));
}
