/** What is left in a cup is weighed back and left to set where it is seen. */
import { cupLabelled } from '../cups.js';
import { button, el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { scaleDecimals } from '../trade/cards.js';
import { fixed } from '../trade/numbers.js';
import { checkReading } from '../trade/reading.js';
import { figure, t } from '../words.js';
import { cupHeader, draw, go, warning } from './frame.js';
import { keep } from './keep.js';
import { readingProblemWords } from './problem-words.js';
import { leftToSet, settingPlaces } from './watch.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../types.js').Cup} Cup */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */
/** @typedef {{known: KnownCup, cup: Cup, scale: ScaleCard}} Rest */

/** @param {string} code */
export function leftoverScreen(code) {
  const known = cupLabelled(code);
  if (!known?.cup || !known.scale || known.cup.state !== 'in_use') return go(`weigh/${code}`);
  const rest = { known, cup: known.cup, scale: known.scale };
  const { cup_g: empty_g } = rest.cup;
  const problem = el('p', { class: 'problem', role: 'alert' });
  draw(
    'leftover',
    cupHeader(known, 3),
    el('h1', { class: 'instruction' }, t('Weigh back what is left')),
    el(
      'p',
      {},
      empty_g === null
        ? t('Zero the scale with an empty cup of the same kind on it, then this cup: type what the scale shows.')
        : t('Zeroed scale, this cup on it without the stick: type what the scale shows. The empty cup is %(mass)s g.', { mass: figure(fixed(empty_g, scaleDecimals(rest.scale))) }),
    ),
    problem,
    keypad({
      label: t('scale shows'),
      onread: (typed) => {
        const { value, words } = leftOf(typed, rest);
        problem.textContent = words;
        if (!words) placeScreen(rest, value, typed);
      },
    }),
    el('a', { class: 'quiet', href: `#/weigh/${code}` }, t('Back')),
  );
}

/**
 * @param {string} typed
 * @param {Rest} rest
 * @returns {{value: string, words: string}} net grams, or why they are none
 */
function leftOf(typed, { cup, scale }) {
  const check = checkReading(typed, scale, {});
  if (check.problem) return { value: '', words: readingProblemWords(check, typed, scale) };
  const decimals = scaleDecimals(scale);
  const left_g = Number(check.value) - (cup.cup_g ?? 0);
  if (left_g < 0) {
    const mass = figure(fixed(cup.cup_g ?? 0, decimals));
    return { value: '', words: t('The empty cup alone is %(mass)s g. Is it this cup, on a zeroed scale?', { mass }) };
  }
  // A share's part of the mix was not weighed: nothing to compare with.
  if (!cup.share_of && left_g > cup.total_g + Number(scale.readability)) {
    const total = figure(fixed(cup.total_g, decimals));
    return { value: '', words: t('That is more than the %(total)s g that went in. Is it this cup, without the stick?', { total }) };
  }
  return { value: fixed(left_g, decimals), words: '' };
}

/**
 * @param {Rest} rest
 * @param {string} value
 * @param {string} typed
 */
function placeScreen({ known, cup }, value, typed) {
  const keepRest = async (/** @type {string} */ where) => {
    const rows = [{ kind: 'leftover', value, unit: 'g', typed }, ...leftToSet(cup, where)];
    if (await keep(known, rows)) go(`weigh/${known.code}`);
  };
  draw(
    'leftover',
    cupHeader(known, 3),
    el('h1', {}, t('%(mass)s g is left: where does it set?', { mass: figure(value) })),
    warning(t('Small open amounts on a surface that cannot burn, in view; no bin with paper or sawdust. Do not carry a warm cup. See the safety data sheet and local rules.')),
    el('div', { class: 'cards' }, ...settingPlaces().map((where) => button('card', where, () => keepRest(where)))),
    el('a', { class: 'second', href: `#/weigh/${known.code}` }, t('Back')),
  );
}
