/** The screen with the keypad: instruction, giant figure, drawings, and the reading checked. */
import { cupSection } from '../parts/cup-section.js';
import { el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { ask } from '../parts/notice.js';
import { gramRule } from '../parts/rule.js';
import { scaleDecimals, scaleReadabilityG } from '../trade/cards.js';
import { parseEntry } from '../trade/numbers.js';
import { checkReading } from '../trade/reading.js';
import { figure, t } from '../words.js';
import { cupHeader, draw } from './frame.js';
import { readingProblemWords } from './problem-words.js';
import { tareKey } from './tare.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/** A fill line drawn for a cup whose volume nobody knows: the plan fills about three quarters. */
const UNKNOWN_CUP_SHARE = 0.75;

/**
 * @param {Weighing} weighing
 * @param {number} done
 * @param {{title: (Node | string)[], figure: string, lines: (Node | string)[], notes: Node[],
 *   component: string, stop_g: number | null, before_g: number | null, again?: boolean,
 *   onvalue: (value: string, typed: string) => Promise<void>, below: string}} step
 */
export function keypadScreen(weighing, done, step) {
  const { scale, cup, system, advice, known } = weighing;
  const problem = el('p', { class: 'problem', role: 'alert' });
  const capacity_g = (weighing.cup_volume_ml ?? 0) * (system.mixed_density_g_cm3 ?? 1) ||
    Math.max(cup.planned_total_g ?? 0, cup.total_g) / UNKNOWN_CUP_SHARE || 1;
  const rule = step.figure && step.stop_g
    ? gramRule({
        stop_g: step.stop_g,
        step_g: scaleReadabilityG(scale),
        decimals: scaleDecimals(scale),
        limit_g: step.again ? null : advice.display_limit_g,
        window: step.again ? null : advice.window,
      })
    : null;
  const pad = keypad({
    label: t('scale shows'),
    extra: step.again ? { text: t('Keep it'), act: () => weighing.again('') } : tareKey(weighing),
    onchange: (typed) => {
      problem.textContent = '';
      const entry = parseEntry(typed);
      rule?.point(entry.problem ? null : Number(entry.value));
    },
    onread: async (typed) => {
      const value = await checked(typed, weighing, step, problem);
      if (value) await step.onvalue(value, typed);
    },
  });
  draw(
    'weigh',
    cupHeader(known, done),
    el('h1', { class: 'instruction' }, ...step.title),
    step.figure && giant(step.figure),
    el('div', { class: 'under-figure' }, ...step.lines.map((line) => el('span', {}, line))),
    ...step.notes,
    el(
      'div',
      { class: 'drawings' },
      el('figure', {}, cupSection(cup.pours, capacity_g), el('figcaption', {}, step.below)),
      rule?.element ?? null,
    ),
    problem,
    pad,
  );
}

/**
 * The figure the display must read, as large as the screen allows.
 * @param {string} text
 */
function giant(text) {
  const element = el('p', { class: 'giant' }, el('span', { class: 'giant-figure' }, figure(text)), el('span', { class: 'giant-unit' }, 'g'));
  element.style.setProperty('--characters', String(text.length));
  return element;
}

/**
 * A typed reading, checked and where needed asked about.
 * @param {string} typed
 * @param {Weighing} weighing
 * @param {{before_g: number | null, stop_g: number | null, again?: boolean}} step
 * @param {HTMLElement} problem
 * @returns {Promise<string>} the value to record; empty where it is not taken
 */
async function checked(typed, { scale }, step, problem) {
  const options = { before_g: step.before_g, expected_g: step.stop_g, again: step.again ?? false };
  let check = checkReading(typed, scale, options);
  if (check.ask) {
    const { value: really } = await ask({
      title: t('Does %(typed)s stand on the display?', { typed }),
      lines: [readingProblemWords(check, typed, scale)],
      answers: [
        { text: t('No, type again'), value: false, main: true },
        { text: t('Yes, it stands there'), value: true },
      ],
    });
    if (!really) return '';
    check = checkReading(typed, scale, { ...options, confirmed: true });
  }
  problem.textContent = check.problem ? readingProblemWords(check, typed, scale) : '';
  return check.problem ? '' : check.value;
}
