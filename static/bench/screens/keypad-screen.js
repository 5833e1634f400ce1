/** The screen with the keypad: instruction, giant figure, drawings, and the reading checked. */
import { cupSection } from '../parts/cup-section.js';
import { el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { ask } from '../parts/notice.js';
import { gramRule } from '../parts/rule.js';
import { sayAloud } from '../parts/voice.js';
import { scaleDecimals, scaleReadabilityG } from '../trade/cards.js';
import { fixed, parseEntry } from '../trade/numbers.js';
import { checkReading } from '../trade/reading.js';
import { figure, t } from '../words.js';
import { autoOffNote } from './auto-off.js';
import { cupHeader, draw } from './frame.js';
import { readingProblemWords } from './problem-words.js';
import { scaleKey } from './tare.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').Draft} Draft */
/**
 * What is read: `stop_g` the display that is expected, `net_g` what is to be added until then.
 * `onvalue` takes the value, what was typed, and rows that stand before its own.
 * @typedef {{title: (Node | string)[], figure: string, lines: (Node | string)[], notes: Node[],
 *   component: string, stop_g: number | null, before_g: number | null, net_g?: number | null,
 *   again?: boolean, below: string,
 *   onvalue: (value: string, typed: string, first: Draft[]) => Promise<void>}} Step
 */

/** A fill line drawn for a cup whose volume nobody knows: the plan fills about three quarters. */
const UNKNOWN_CUP_SHARE = 0.75;

/**
 * @param {Weighing} weighing
 * @param {number} done
 * @param {Step} step
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
    extra: step.again ? { text: t('Keep it'), act: () => weighing.again('') } : scaleKey(weighing),
    onchange: (typed) => {
      problem.textContent = '';
      const entry = parseEntry(typed);
      rule?.point(entry.problem ? null : Number(entry.value));
    },
    onread: async (typed) => {
      const read = await checked(typed, weighing, step, problem);
      if (read) await step.onvalue(read.value, typed, read.first);
    },
  });
  const title = step.title.map((part) => (typeof part === 'string' ? part : part.textContent)).join('');
  void sayAloud(`${known.code} ${done}`, [title, figure(step.figure)].filter(Boolean).join(' '));
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
    autoOffNote(weighing),
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
 * @param {Step} step
 * @param {HTMLElement} problem
 * @returns {Promise<{value: string, first: Draft[]} | null>} the value to record, and the rows that
 *   stand before it; null where it is not taken
 */
async function checked(typed, { scale, advice }, step, problem) {
  const options = {
    before_g: step.before_g,
    expected_g: step.stop_g,
    net_g: step.net_g ?? null,
    accept_low_g: step.again ? null : (advice.window?.accept_low_g ?? null),
    accept_high_g: step.again ? null : (advice.window?.accept_high_g ?? null),
    again: step.again ?? false,
  };
  const check = checkReading(typed, scale, options);
  if (check.problem === 'tared') {
    // Above the last reading it may stand there without a tare, too.
    const sure = checkReading(typed, scale, { ...options, confirmed: true });
    return tared(typed, scale, readingProblemWords(check, typed, scale), sure.value);
  }
  if (!check.ask) {
    problem.textContent = check.problem ? readingProblemWords(check, typed, scale) : '';
    return check.problem ? null : { value: check.value, first: [] };
  }
  if (!(await stands(typed, check, scale))) return null;
  const sure = checkReading(typed, scale, { ...options, confirmed: true });
  problem.textContent = sure.problem ? readingProblemWords(sure, typed, scale) : '';
  return sure.problem ? null : { value: sure.value, first: [] };
}

/**
 * Whether a figure that looks like a slip really stands on the display.
 * @param {string} typed
 * @param {import('../types.js').ReadingCheck} check
 * @param {import('../types.js').ScaleCard} scale
 */
export async function stands(typed, check, scale) {
  const stick = check.problem === 'stick';
  const { value } = await ask({
    title: stick ? t('Is the stick in the cup?') : t('Does %(typed)s stand on the display?', { typed }),
    lines: [readingProblemWords(check, typed, scale)],
    answers: [
      { text: t('No, type again'), value: false, main: true },
      { text: stick ? t('It is as with the empty cup') : t('Yes, it stands there'), value: true },
    ],
  });
  return value;
}

/**
 * Tare was pressed and nobody said so: what stands there is what was added since.
 * @param {string} typed
 * @param {import('../types.js').ScaleCard} scale
 * @param {string} words
 * @param {string} untared  the value where it may stand there without a tare; empty where it cannot
 * @returns {Promise<{value: string, first: Draft[]} | null>}
 */
async function tared(typed, scale, words, untared) {
  const { value: answer } = await ask({
    title: t('Was tare pressed?'),
    lines: [words, t('If something was poured between the last reading and tare, its mass is lost: scrap this cup.')],
    answers: [
      { text: t('No, type again'), value: '', main: true },
      { text: t('Yes, right after the last reading'), value: 'tared' },
      ...(untared ? [{ text: t('No tare: it stands there'), value: 'stands' }] : []),
    ],
  });
  if (answer === 'stands') return { value: untared, first: [] };
  const sure = checkReading(typed, scale, { confirmed: true });
  if (answer !== 'tared' || sure.problem) return null;
  const zero = fixed(0, scaleDecimals(scale));
  return { value: sure.value, first: [{ kind: 'rezeroed', value: zero, unit: 'g', note: 'said with the next reading' }] };
}
