/** Into the part: which step of its job a cup was poured into. The planned one costs one tap. */
import { cupLabelled, partOf } from '../cups.js';
import { button, el } from '../parts/el.js';
import { cupTemperatureNow } from '../shop-rows.js';
import { codeOf, resinSteps, sheetOf, stepOf } from '../sheets.js';
import { stateWords, stepWords } from '../step-words.js';
import { cupUsable } from '../trade/cup/index.js';
import { t } from '../words.js';
import { cupHeader, draw, go, warning } from './frame.js';
import { judged, overLargest } from './judged.js';
import { keep } from './keep.js';
import { earlyWords } from './mixing.js';
import { goOn, isLate, isOver, potClock, scrapFirst, withReason } from './pot.js';

/** @typedef {import('./pot.js').Mix} Mix */
/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../sheets.js').KnownSheet} KnownSheet */
/** @typedef {import('../types.js').Cup} Cup */
/** @typedef {import('../types.js').StepState} StepState */

/** @param {Weighing} weighing */
export function useStep(weighing) {
  const { cup, known } = weighing;
  const sheet = cup.job ? sheetOf(cup.job) : null;
  const own = sheet ? stepsFor(sheet, cup) : [];
  const poured = cup.state === 'in_use';
  const step = poured ? (cup.uses.at(-1)?.step ?? '') : cup.step;
  const goal = [cup.job && partOf(cup.job), stepWords(step)].filter(Boolean).join(' · ') || t('the part');
  const late = isLate(weighing);
  const choice = el('a', { class: 'second', href: `#/poured/${known.code}` }, t('Into another step'));
  judged(
    weighing,
    [
      el('h2', {}, poured ? t('Poured into %(goal)s', { goal }) : isOver(weighing) ? t('It was for %(goal)s', { goal }) : t('Use it now: %(goal)s', { goal })),
      ...(poured ? [] : barredWords(own, cup.step)),
      earlyWords(weighing),
      ...overLargest(weighing),
      potClock(weighing),
    ],
    [
      scrapFirst(weighing),
      ...(poured ? emptied(weighing, late) : pours(weighing, sheet, own)),
      own.length > 1 ? choice : null,
      late ? null : el('a', { class: 'second', href: `#/scrap/${known.code}` }, t('Scrap the rest')),
    ],
  );
}

/**
 * @param {Weighing} weighing
 * @param {boolean} late
 */
function emptied(weighing, late) {
  return [
    button(late ? 'second' : 'action', t('Cup is empty'), () => weighing.keep([{ kind: 'leftover', value: '0', unit: 'g' }])),
    el('a', { class: 'second', href: `#/leftover/${weighing.known.code}` }, t('Something is left')),
  ];
}

/**
 * Keys that pour a mix into the part as it is.
 * @param {Weighing} weighing
 * @param {string} name  class of the first one
 */
export function pourKeys(weighing, name) {
  const { cup } = weighing;
  const sheet = cup.job ? sheetOf(cup.job) : null;
  return pours(weighing, sheet, sheet ? stepsFor(sheet, cup) : [], name);
}

/**
 * Steps of the job that take the resin of this cup, whatever revision its card had.
 * @param {KnownSheet} sheet
 * @param {Cup} cup
 */
function stepsFor(sheet, cup) {
  return resinSteps(sheet).filter(({ step }) => step.system === codeOf(cup.system));
}

/** @param {StepState} state */
function isOpen({ state }) {
  return state === 'ready' || state === 'running';
}

/**
 * Why the planned step takes nothing now.
 * @param {StepState[]} own
 * @param {string} name
 */
function barredWords(own, name) {
  const planned = own.find(({ step }) => step.name === name);
  return planned && !isOpen(planned) ? [warning(notOpenWords(planned))] : [];
}

/** @param {StepState} state */
function notOpenWords(state) {
  return t('%(step)s is not open: %(state)s.', { step: stepWords(state.step.name), state: stateWords(state) });
}

/**
 * The planned step and the one the sheet stands at; one that is open comes first and large.
 * @param {Weighing} weighing
 * @param {KnownSheet | null} sheet
 * @param {StepState[]} own
 * @param {string} first  class of the first key
 */
function pours(weighing, sheet, own, first = isLate(weighing) ? 'second' : 'action') {
  const { cup, known } = weighing;
  if (!sheet) return [goOn(weighing, t('Poured into the part'), { kind: 'poured' }, first)];
  // No step of its job takes this resin: the part is all that can be said.
  if (own.length === 0) return [goOn(weighing, t('Poured into the part'), { kind: 'poured', step: '' }, first)];
  const planned = own.filter(({ step }) => step.name === cup.step);
  const current = own.filter(({ step }) => step.name === sheet.current && step.name !== cup.step);
  const offered = [...planned, ...current].sort((one, other) => Number(isOpen(other)) - Number(isOpen(one)));
  if (offered.length === 0) {
    return [el('a', { class: first, href: `#/poured/${known.code}` }, t('Poured into which step?'))];
  }
  return offered.map((state, index) => {
    const step = stepWords(state.step.name);
    const text = planned.includes(state) ? t('Poured into the part: %(step)s', { step }) : t('Poured into %(goal)s', { goal: step });
    return button(index ? 'second' : first, text, async () => {
      const rows = await pour(weighing, sheet, state.step.name);
      if (rows.length) await weighing.keep(rows);
    });
  });
}

/**
 * The row of a pour; a step that is not open takes a written reason, and so does a late cup.
 * @param {Mix} mix
 * @param {KnownSheet} sheet
 * @param {string} name
 * @returns {Promise<Draft[]>} none where the person did not go on
 */
function pour(mix, sheet, name) {
  // As the step stands now: its clock went on while the screen lay there.
  const now = sheetOf(sheet.job);
  const state = now && stepOf(now, name);
  const against = state && !isOpen(state) ? [notOpenWords(state)] : [];
  return withReason(mix, { kind: 'poured', job: sheet.job, step: name }, against);
}

/**
 * Every step of the job that takes the resin of a cup.
 * @param {string} code  of the cup
 */
export function pouredScreen(code) {
  const known = cupLabelled(code);
  const { cup = null, system = null } = known ?? {};
  const sheet = cup?.job ? sheetOf(cup.job) : null;
  const own = sheet && cup ? stepsFor(sheet, cup) : [];
  if (!known || !cup || !system || !sheet || own.length === 0 || !cupUsable(cup)) return go(`weigh/${code}`);
  const mix = { cup, system, temperature_c: cupTemperatureNow(cup.first_contact_at) };
  draw(
    'poured',
    cupHeader(known, 3),
    el('h1', {}, t('Poured into which step?')),
    el(
      'div',
      { class: 'cards' },
      ...own.map((state) => {
        const card = button('card', '', async () => {
          const rows = await pour(mix, sheet, state.step.name);
          if (rows.length && (await keep(known, rows))) go(`weigh/${code}`);
        });
        card.append(el('span', { class: 'card-lines' }, el('strong', {}, stepWords(state.step.name)), el('span', {}, stateWords(state))));
        return card;
      }),
    ),
    el('a', { class: 'second', href: `#/weigh/${code}` }, t('Back')),
  );
}
