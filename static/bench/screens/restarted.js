/**
 * The scale went off, or was knocked: it starts from zero again, and what it shows with the cup back
 * on it says how much is in. Readings that were never taken cannot be made up.
 */
import { cupLabelled, cupTypeNamed } from '../cups.js';
import { button, el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { scaleDecimals } from '../trade/cards.js';
import { fixed } from '../trade/numbers.js';
import { checkGross } from '../trade/reading.js';
import { figure, t } from '../words.js';
import { cupHeader, draw, go, warning } from './frame.js';
import { stands } from './keypad-screen.js';
import { readingProblemWords } from './problem-words.js';
import { leftToSet } from './watch.js';
import { prepare } from './weigh.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').Draft} Draft */

/** @param {string} code  of the cup that stood on it */
export function restartedScreen(code) {
  const known = cupLabelled(code);
  const weighing = known && prepare(known, '');
  // Nothing was read before: the cup is simply begun anew.
  if (!weighing || weighing.cup.display_g === null) return go(`weigh/${code}`);
  if (emptyCup(weighing).mass_g === null) return lostScreen(weighing);
  draw(
    'restarted',
    cupHeader(weighing.known, 2),
    el('h1', {}, t('What was being poured when the scale went off?')),
    el('div', { class: 'cards' }, ...choices(weighing).map(({ text, component, unread }) => button('card', text, () => readScreen(weighing, component, unread)))),
    el('a', { class: 'quiet', href: `#/weigh/${code}` }, t('Back')),
  );
}

/**
 * Mass of the empty cup: as it was read; else of its type, where tare took the reading away.
 * @param {Weighing} weighing
 * @returns {{mass_g: number | null, assumed: boolean}}
 */
function emptyCup({ cup, known }) {
  if (cup.cup_g) return { mass_g: cup.cup_g, assumed: false };
  const type = cupTypeNamed(known.plan?.cup_type ?? '');
  return { mass_g: type ? type.mass_g : null, assumed: type !== null };
}

/**
 * What may have been poured, the likeliest first.
 * @param {Weighing} weighing
 * @returns {{text: string, component: string, unread: boolean}[]}
 */
function choices({ cup, advice, system }) {
  const nothing = { text: t('Nothing'), component: '', unread: false };
  const hardener = { text: t('hardener %(word)s', { word: system.hardener_word }), component: 'b', unread: false };
  const resin = { text: t('part A'), component: 'a', unread: false };
  const both = { text: t('More than one of them, unread'), component: '', unread: true };
  const paste = advice.component && !['a', 'b'].includes(advice.component) ? [{ text: t('paste %(code)s', { code: advice.component }), component: advice.component, unread: false }] : [];
  if (cup.state === 'b_open') return [hardener, nothing, both];
  if (cup.state === 'empty_read') return [resin, nothing, both];
  if (cup.state === 'a_waiting') return [nothing, ...paste, resin, hardener, both];
  return [nothing, resin, hardener, both];
}

/**
 * The way back, one step after the other, and what the scale then shows.
 * @param {Weighing} weighing
 * @param {string} component  that was being poured; empty for none
 * @param {boolean} unread  more than one was
 */
function readScreen(weighing, component, unread) {
  const { cup, known, scale } = weighing;
  const { mass_g, assumed } = emptyCup(weighing);
  const least_g = (mass_g ?? 0) + cup.total_g;
  const shows = figure(fixed(least_g, scaleDecimals(scale)));
  const expected_g = component || unread ? null : least_g;
  const problem = el('p', { class: 'problem', role: 'alert' });
  draw(
    'restarted',
    cupHeader(known, 2),
    el(
      'ol',
      { class: 'way-back' },
      el('li', {}, t('Take the cup off.')),
      el('li', {}, t('Switch the scale on empty: it shows 0.')),
      el('li', {}, t('Check weight on, if there is one: does it show its mass? Off again.')),
      el('li', {}, t('Set the cup down as it was, and type what stands there.')),
    ),
    el('p', { class: 'under-figure' }, el('strong', {}, expected_g === null ? t('more than %(shows)s g', { shows }) : t('It must show %(shows)s g', { shows }))),
    assumed ? warning(t('The empty cup was never read: this counts on the mass of its type, %(mass)s g.', { mass: figure(fixed(mass_g ?? 0, scaleDecimals(scale))) })) : null,
    unread ? warning(t('How much of each went in cannot be told: the ratio stays unknown. Not into a part.')) : null,
    problem,
    keypad({
      label: t('scale shows'),
      extra: { text: t('Back'), act: () => restartedScreen(known.code) },
      onread: async (typed) => {
        const options = { least_g, expected_g };
        let check = checkGross(typed, scale, options);
        if (check.ask) {
          if (!(await stands(typed, check, scale))) return;
          check = checkGross(typed, scale, { ...options, confirmed: true });
        }
        problem.textContent = check.problem ? readingProblemWords(check, typed, scale) : '';
        if (check.problem) return;
        await weighing.keep([...typeRows(weighing), { kind: 'scale_restarted', component, value: check.value, unit: 'g', typed, target: expected_g === null ? '' : fixed(least_g, scaleDecimals(scale)) }]);
        go(`weigh/${known.code}`);
      },
    }),
  );
}

/**
 * The mass of the cup's type stands for a reading that tare took away.
 * @param {Weighing} weighing
 * @returns {Draft[]}
 */
function typeRows(weighing) {
  const { mass_g, assumed } = emptyCup(weighing);
  if (!assumed || mass_g === null) return [];
  return [{ kind: 'weighed', component: 'cup', value: fixed(mass_g, scaleDecimals(weighing.scale)), unit: 'g', note: 'mass of the cup type' }];
}

/** @param {Weighing} weighing */
function lostScreen({ known, cup, keep }) {
  draw(
    'restarted',
    cupHeader(known, 2),
    el('h1', {}, t('The empty cup was never read')),
    warning(t('Without its mass nobody can tell how much is in. The ratio stays unknown: not into a part.')),
    el(
      'div',
      { class: 'actions' },
      el('a', { class: 'action', href: `#/scrap/${known.code}` }, t('Scrap this cup')),
      button('second', t('Keep as a sample'), async () => {
        await keep([{ kind: 'sampled', note: 'restart_without_cup' }, ...leftToSet(cup, t('sample'))]);
        go(`weigh/${known.code}`);
      }),
      el('a', { class: 'quiet', href: `#/weigh/${known.code}` }, t('Back: the scale is still on')),
    ),
  );
}
