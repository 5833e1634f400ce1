/** The steps with a keypad: the empty cup, part A, part B, a correction, a reading again. */
import { cupSection } from '../parts/cup-section.js';
import { el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { ask } from '../parts/notice.js';
import { gramRule } from '../parts/rule.js';
import { cupTypeNamed } from '../cups.js';
import { scaleDecimals, scaleReadabilityG } from '../trade/cards.js';
import { fold } from '../trade/cup/index.js';
import { fixed, parseEntry, stepInside, toStep } from '../trade/numbers.js';
import { checkReading } from '../trade/reading.js';
import { makeRow } from '../trade/rows.js';
import { figure, t } from '../words.js';
import { cupHeader, draw, go, warning } from './frame.js';
import { readingProblemWords } from './problem-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('./cans.js').ChosenCan} ChosenCan */
/** @typedef {import('../shapes.js').Draft} Draft */

/** A fill line drawn for a cup whose volume nobody knows: the plan fills about three quarters. */
const UNKNOWN_CUP_SHARE = 0.75;

/** @param {Weighing} weighing */
export function readCupStep(weighing) {
  const { known, scale, advice } = weighing;
  const expected_g = cupTypeNamed(known.plan?.cup_type ?? '')?.mass_g ?? null;
  screen(weighing, 0, {
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
  const { advice, cup, scale } = weighing;
  const component = advice.component;
  // A cup whose plan is not known has no target; what it may hold still limits it.
  const stop_g = advice.display_stop_g;
  const target = stop_g === null ? '' : display(stop_g, weighing);
  screen(weighing, component === 'a' && !cup.part_b_g ? 1 : 2, {
    title: pourTitle(weighing),
    figure: target,
    lines: pourLines(weighing, can),
    notes: component === 'a' && !cup.part_b_g ? scaleNotes(weighing) : [],
    component,
    stop_g,
    before_g: cup.display_g,
    onvalue: async (value, typed) => {
      const row = reading(component, value, typed, target);
      const rows = [...weighing.start, ...canRows(can), row];
      row.shown = verdictAfter(weighing, rows);
      await weighing.keep(rows);
    },
    below: component === 'a' ? '' : t('A %(mass)s g', { mass: figure(fixed(cup.part_a_g, scaleDecimals(scale))) }),
  });
}

/** @param {Weighing} weighing */
export function readAgainStep(weighing) {
  const { cup } = weighing;
  const was = display(cup.display_g ?? 0, weighing);
  screen(weighing, 2, {
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

/**
 * @param {Weighing} weighing
 * @param {number} done
 * @param {{title: (Node | string)[], figure: string, lines: (Node | string)[], notes: Node[],
 *   component: string, stop_g: number | null, before_g: number | null, again?: boolean,
 *   onvalue: (value: string, typed: string) => Promise<void>, below: string}} step
 */
function screen(weighing, done, step) {
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

/**
 * @param {string} component
 * @param {string} value
 * @param {string} typed
 * @param {string} target
 * @returns {Draft}
 */
function reading(component, value, typed, target) {
  return { kind: 'weighed', component, value, unit: 'g', typed, target };
}

/** @param {ChosenCan | null} can @returns {Draft[]} */
export function canRows(can) {
  if (!can) return [];
  const { component, lot, container, reason } = can;
  /** @type {Draft[]} */
  const rows = [{ kind: 'lot_used', component, lot, container, note: can.note }];
  if (reason) rows.push({ kind: 'deviation', note: reason, refers_to_previous: true });
  return rows;
}

/**
 * The verdict the screen will show once these rows are kept, so that the row can carry it.
 * @param {Weighing} weighing
 * @param {Draft[]} drafts
 * @returns {string}
 */
function verdictAfter({ known, system, scale, cup }, drafts) {
  let after = known.rows.length ? cup.last_event_id : '';
  const provisional = drafts.map((draft, index) => {
    const { refers_to_previous: _, ...fields } = draft;
    const row = makeRow({ ...fields, event_id: `~${index}`, after, recorded_at: new Date().toISOString() });
    after = row.event_id;
    return row;
  });
  const judged = fold([...known.rows, ...provisional], system, scale);
  return judged.unknown ? 'unknown' : (judged.verdict ?? '');
}

/** @param {Weighing} weighing */
function tareKey(weighing) {
  return { text: t('I pressed tare'), act: () => rezero(weighing) };
}

/** @param {Weighing} weighing */
async function rezero(weighing) {
  const { scale, cup, known } = weighing;
  const zero = fixed(0, scaleDecimals(scale));
  const first = cup.state === 'started';
  const { value } = await ask({
    title: t('Tare pressed with the cup on the scale?'),
    lines: first
      ? [t('The display then goes on from %(zero)s. If the scale dies, only the mass of the cup type can recover this cup.', { zero: figure(zero) })]
      : [t('The display now shows %(zero)s and the next target changes.', { zero: figure(zero) }), t('If something was poured after the last reading and before tare, its mass is lost: scrap this cup.')],
    answers: [
      { text: t('Yes, nothing poured since'), value: 'yes', main: true },
      ...(first ? [] : [{ text: t('Poured before tare: scrap'), value: 'lost' }]),
      { text: t('No'), value: 'no' },
    ],
  });
  if (value === 'lost') go(`scrap/${known.code}`);
  if (value === 'yes') await weighing.keep([...weighing.start.slice(0, 1), { kind: 'rezeroed', value: zero, unit: 'g' }]);
}

/** @param {Weighing} weighing */
function pourTitle({ advice, system, cup }) {
  const resin = el('mark', { class: 'mark-resin' }, t('part A'));
  const hardener = el('mark', { class: 'mark-hardener' }, t('hardener %(word)s', { word: system.hardener_word }));
  const first = advice.component === 'a' && !cup.part_b_g;
  if (first) return around(t('Pour %(part)s until the scale shows'), resin);
  return around(t('Now %(part)s until it shows'), advice.component === 'a' ? resin : hardener);
}

/**
 * A sentence with an element in its place.
 * @param {string} sentence
 * @param {Node} element
 */
function around(sentence, element) {
  const [before, after = ''] = sentence.split('%(part)s');
  return [before, element, after];
}

/**
 * @param {Weighing} weighing
 * @param {ChosenCan | null} can
 */
function pourLines(weighing, can) {
  const { advice, scale, cup } = weighing;
  if (advice.component === 'a' && !cup.part_b_g) {
    const [, high] = stepInside(0, advice.display_limit_g ?? 0, scaleReadabilityG(scale)) ?? [0, 0];
    const from = can?.container ? `${can.container} · ${can.lot}` : t('can not recorded');
    const other = el('a', { href: `#/cans/a/${weighing.known.code}` }, from);
    return [
      el('strong', {}, t('up to %(high)s is fine', { high: figure(fixed(high, scaleDecimals(scale))) })),
      other,
    ];
  }
  const proven = windowWords(weighing);
  return [el('strong', {}, proven), t('eyes covered')];
}

/** @param {Weighing} weighing */
function windowWords({ advice, scale }) {
  const { window } = advice;
  if (!window) return '';
  const step_g = scaleReadabilityG(scale);
  const write = (/** @type {[number, number]} */ pair) => {
    const [low, high] = pair.map((value) => figure(fixed(value, scaleDecimals(scale))));
    return { low, high };
  };
  const proven =
    window.proven_low_g !== null && window.proven_high_g !== null
      ? stepInside(window.proven_low_g, window.proven_high_g, step_g)
      : null;
  if (proven) return t('%(low)s – %(high)s proven in', write(proven));
  const accepted = stepInside(window.accept_low_g, window.accept_high_g, step_g);
  return accepted
    ? t('%(low)s – %(high)s in, unproven', write(accepted))
    : t('no step of this scale is in');
}

/** @param {Weighing} weighing */
function scaleNotes({ advice, scale }) {
  const notes = [];
  if (advice.cautions.includes('proves_in_part')) {
    const size = figure(fixed(advice.smallest_cup_g ?? 0, 1));
    notes.push(t('Scale %(code)s proves this cup only in part (below %(size)s g), from the display step only.', { code: scale.code, size }));
  }
  if (advice.cautions.includes('over_largest')) {
    notes.push(t('This cup is above the largest for this system. Heat builds up: split it, see the data sheet.'));
  }
  return notes.map((text) => warning(text));
}

/**
 * A display as the scale would show it.
 * @param {number} value_g
 * @param {Weighing} weighing
 */
export function display(value_g, { scale }) {
  return fixed(toStep(value_g, scaleReadabilityG(scale)), scaleDecimals(scale));
}
