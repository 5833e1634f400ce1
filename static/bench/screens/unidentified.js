/** A cup nobody can name: into no part; it is left to set, and its end is recorded. */
import { cupLabelled } from '../cups.js';
import { button, el } from '../parts/el.js';
import { stopShape } from '../parts/stop-shape.js';
import { foldUnidentified } from '../trade/cup/unidentified.js';
import { clock, dateAndTime, figure, t } from '../words.js';
import { draw, go, plainHeader, warning } from './frame.js';
import { keep } from './keep.js';
import { endPlaces, settingPlaces } from './watch.js';

/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../types.js').Unidentified} Unidentified */

/**
 * What is known of a cup nobody can name; null for any other cup.
 * @param {KnownCup} known
 */
export function unidentifiedOf({ rows }) {
  return rows.length ? foldUnidentified(rows) : null;
}

/** @param {string} code */
export function unidentifiedScreen(code) {
  const known = cupLabelled(code);
  const found = known && unidentifiedOf(known);
  if (!known || !found || found.state === 'closed') return go(`story/${code}`);
  draw(
    'unidentified',
    plainHeader(t('Unidentified')),
    el('div', { class: 'stop-head' }, stopShape(), el('h1', {}, t('Not for a part'))),
    el('p', { class: 'instruction' }, t('Write this code on it:')),
    el('p', {}, el('span', { class: 'code code-large' }, code)),
    el('p', {}, [t('found %(time)s', { time: dateAndTime(found.found_at) }), `${figure(String(found.gross_g ?? ''))} g`, found.letters].join(' · ')),
    ...(found.state === 'setting' ? watch(known, found) : end(known)),
    el('a', { class: 'quiet', href: '#/' }, t('Next cups')),
  );
}

/** @param {KnownCup} known */
function end(known) {
  return [
    warning(t('Nobody knows what is in it or since when. Feel it from the side; do not carry a warm cup. Small open amounts on a surface that cannot burn, in view, no bin. See the safety data sheet.')),
    el('h2', {}, t('Where does it set?')),
    choices(known, settingPlaces(), (where) => [{ kind: 'scrapped', note: 'unidentified' }, { kind: 'setting', note: where }]),
  ];
}

/**
 * @param {KnownCup} known
 * @param {Unidentified} found
 */
function watch(known, found) {
  return [
    el('p', { class: 'big' }, t('left to set since %(time)s, in view', { time: clock(found.set_at) })),
    el('h2', {}, t('Cold and hard? Where does it go?')),
    choices(known, endPlaces(), (where) => [{ kind: 'disposed', note: where }]),
  ];
}

/**
 * @param {KnownCup} known
 * @param {string[]} texts
 * @param {(text: string) => Draft[]} rows
 */
function choices(known, texts, rows) {
  const act = async (/** @type {string} */ text) => {
    if (await keep(known, rows(text))) unidentifiedScreen(known.code);
  };
  return el('div', { class: 'cards' }, ...texts.map((text) => button('card', text, () => act(text))));
}
