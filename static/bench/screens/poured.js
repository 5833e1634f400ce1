/** Into the part: which step of its job a cup was poured into. The planned one costs one tap. */
import { cupLabelled, partOf } from '../cups.js';
import { button, el } from '../parts/el.js';
import { resinSteps, sheetOf, stepOf } from '../sheets.js';
import { stateWords, stepWords } from '../step-words.js';
import { t } from '../words.js';
import { cupHeader, draw, go } from './frame.js';
import { judged, overLargest, potClock } from './judged.js';
import { keep } from './keep.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../sheets.js').KnownSheet} KnownSheet */

/** @param {Weighing} weighing */
export function useStep(weighing) {
  const { cup, known } = weighing;
  const sheet = cup.job ? sheetOf(cup.job) : null;
  const poured = cup.state === 'in_use';
  const step = cup.uses.at(-1)?.step || cup.step;
  const goal = [cup.job && partOf(cup.job), stepWords(step)].filter(Boolean).join(' · ') || t('the part');
  judged(
    weighing,
    [
      el('h2', {}, poured ? t('Poured into %(goal)s', { goal }) : t('Use it now: %(goal)s', { goal })),
      ...overLargest(weighing),
      potClock(weighing),
    ],
    [
      ...(poured
        ? [button('action', t('Cup is empty'), () => weighing.keep([{ kind: 'leftover', value: '0', unit: 'g' }]))]
        : pours(weighing, sheet)),
      sheet && resinSteps(sheet).length > 1 ? el('a', { class: 'second', href: `#/poured/${known.code}` }, t('Into another step')) : null,
      el('a', { class: 'second', href: `#/scrap/${known.code}` }, t('Scrap the rest')),
    ],
  );
}

/**
 * The planned step first and large, then the one the sheet stands at.
 * @param {Weighing} weighing
 * @param {KnownSheet | null} sheet
 */
function pours(weighing, sheet) {
  const { cup } = weighing;
  const planned = sheet && stepOf(sheet, cup.step);
  if (!sheet || !planned) return [button('action', t('Poured into the part'), () => weighing.keep([{ kind: 'poured' }]))];
  const current = resinSteps(sheet).find(({ step }) => step.name === sheet.current && step.name !== cup.step);
  return [
    button('action', t('Poured into the part: %(step)s', { step: stepWords(cup.step) }), () => weighing.keep([pour(sheet, cup.step)])),
    current ? button('second', t('Poured into %(goal)s', { goal: stepWords(current.step.name) }), () => weighing.keep([pour(sheet, current.step.name)])) : null,
  ];
}

/**
 * @param {KnownSheet} sheet
 * @param {string} step
 * @returns {Draft}
 */
function pour(sheet, step) {
  return { kind: 'poured', job: sheet.job, step };
}

/**
 * Every step of the job that takes resin.
 * @param {string} code  of the cup
 */
export function pouredScreen(code) {
  const known = cupLabelled(code);
  const sheet = known?.cup?.job ? sheetOf(known.cup.job) : null;
  const usable = ['mixed', 'in_use'].includes(known?.cup?.state ?? '');
  if (!known || !sheet || !usable) return go(`weigh/${code}`);
  draw(
    'poured',
    cupHeader(known, 3),
    el('h1', {}, t('Poured into which step?')),
    el(
      'div',
      { class: 'cards' },
      ...resinSteps(sheet).map((state) => {
        const card = button('card', '', async () => {
          if (await keep(known, [pour(sheet, state.step.name)])) go(`weigh/${code}`);
        });
        card.append(el('span', { class: 'card-lines' }, el('strong', {}, stepWords(state.step.name)), el('span', {}, stateWords(state))));
        return card;
      }),
    ),
    el('a', { class: 'second', href: `#/weigh/${code}` }, t('Back')),
  );
}
