/** The steps with a keypad: the empty cup, part A, part B, a correction, a reading again. */
import { cupTypeNamed } from '../cups.js';
import { el } from '../parts/el.js';
import { scaleDecimals } from '../trade/cards.js';
import { unfinishedPart } from '../trade/cup/pours.js';
import { fixed } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { canRows, reading, verdictAfter } from './drafts.js';
import { keypadScreen } from './keypad-screen.js';
import { contentWords } from './paste.js';
import { rezero } from './tare.js';
import { display, pourLines, pourTitle, scaleNotes } from './target-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('./cans.js').ChosenCan} ChosenCan */

/** @param {Weighing} weighing */
export function readCupStep(weighing) {
  const { known, scale, advice } = weighing;
  const expected_g = cupTypeNamed(known.plan?.cup_type ?? '')?.mass_g ?? null;
  keypadScreen(weighing, 0, {
    title: [t('Put the empty cup on the zeroed scale')],
    figure: '',
    lines: [t('then type what the scale shows')],
    notes: scaleNotes(weighing),
    component: 'cup',
    stop_g: expected_g,
    before_g: null,
    onvalue: async (value, typed) => {
      if (Number(value) === 0) return rezero(weighing);
      await weighing.keep([...weighing.start, reading('cup', value, typed, '')]);
    },
    below: expected_g
      ? t('cup type %(code)s: about %(mass)s g', {
          code: known.plan?.cup_type ?? '',
          mass: figure(fixed(expected_g, scaleDecimals(scale))),
        })
      : t('planned %(total)s g', { total: figure(fixed(advice.total_g ?? 0, 1)) }),
  });
}

/**
 * Pour one part to its stop.
 * @param {Weighing} weighing
 * @param {ChosenCan | null} can  for part A, which can it comes from
 */
export function pourStep(weighing, can) {
  const { advice, cup } = weighing;
  const component = advice.component;
  // A cup whose plan is not known has no target; what it may hold still limits it.
  const stop_g = advice.display_stop_g;
  const target = stop_g === null ? '' : display(stop_g, weighing);
  keypadScreen(weighing, component === 'a' && !cup.part_b_g ? 1 : 2, {
    title: pourTitle(weighing),
    figure: target,
    lines: [...soFarLines(weighing), ...pourLines(weighing, can)],
    notes: scaleNotes(weighing),
    component,
    stop_g,
    before_g: cup.display_g,
    net_g: advice.add_g,
    onvalue: async (value, typed, first) => {
      const row = reading(component, value, typed, target);
      const rows = [...weighing.start, ...canRows(can), ...first, row];
      row.shown = verdictAfter(weighing, rows);
      await weighing.keep(rows);
    },
    below: contentWords(weighing),
  });
}

/**
 * After the scale was restarted in the middle of a pour: how much of it is in.
 * @param {Weighing} weighing
 */
function soFarLines({ advice, cup, scale }) {
  const part = unfinishedPart(cup.pours);
  if (!part || part !== advice.component) return [];
  const grams = (/** @type {number} */ mass_g) => figure(fixed(mass_g, scaleDecimals(scale)));
  const so_far = grams(part === 'a' ? cup.part_a_g : cup.part_b_g);
  const words = { part: part.toUpperCase(), so_far, rest: grams(advice.add_g ?? 0) };
  return [el('strong', {}, t('%(part)s so far %(so_far)s g, %(rest)s g to go', words))];
}

/** @param {Weighing} weighing */
export function readAgainStep(weighing) {
  const { cup } = weighing;
  const was = display(cup.display_g ?? 0, weighing);
  keypadScreen(weighing, 2, {
    title: [t('Lift the cup, set it down, read again')],
    figure: was,
    lines: [t('the reading before')],
    notes: [],
    component: cup.last_reading_component,
    stop_g: cup.display_g,
    before_g: null,
    again: true,
    onvalue: async (value, typed) => {
      const row = {
        ...reading(cup.last_reading_component, value, typed, ''),
        refers_to: cup.last_reading_id,
      };
      await weighing.keep([{ ...row, shown: verdictAfter(weighing, [row]) }]);
    },
    below: '',
  });
}
