/** Which can: part A quietly from the one in use, the hardener by an act of its own. */
import { partOf, shop, startedCups } from '../cups.js';
import { facts, keepFacts } from '../log/bench-log.js';
import { el, button } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { stopSound } from '../parts/sound.js';
import { stopShape } from '../parts/stop-shape.js';
import { scaleDecimals, systemRatio } from '../trade/cards.js';
import { REASON_MAY_PASS, canProblem, materialWanted, swapped } from '../trade/identity.js';
import { fixed } from '../trade/numbers.js';
import { hardenerTargetG } from '../trade/ratio.js';
import { figure, t } from '../words.js';
import { cupHeader, draw } from './frame.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../types.js').Container} Container */
/** @typedef {import('../types.js').Lot} Lot */
/** @typedef {{component: string, container: string, lot: string, reason: string, note: string}} ChosenCan */

/**
 * Today in the place of this phone.
 * @returns {string}
 */
export function today() {
  const now = new Date();
  const local = new Date(now.getTime() - now.getTimezoneOffset() * 60000);
  return local.toISOString().slice(0, 10);
}

/** @param {string} material */
export function cansOf(material) {
  return (shop()?.containers ?? []).filter((can) => can.material === material);
}

/** @param {Container} can @returns {Lot | null} */
export function lotOf(can) {
  return shop()?.lots.find((lot) => lot.code === can.lot) ?? null;
}

/**
 * The can a part comes from without asking: the one used last, else the one that is in date. A can
 * that stops is asked about; without an answer the step is not shown.
 * @param {Weighing} weighing
 * @param {string} component
 * @returns {Promise<ChosenCan | null>}
 */
export async function canFor(weighing, component) {
  const { system } = weighing;
  const material = materialWanted(component, system);
  const { cans_in_use: inUse } = await facts('cans_in_use');
  const cans = cansOf(material);
  const can =
    cans.find((one) => one.code === inUse?.[material]) ??
    cans.find((one) => canProblem(component, system, one, lotOf(one), today()) === null) ??
    cans[0];
  if (!can) return { component, container: '', lot: '', reason: '', note: 'no can on record' };
  return checkedCan(weighing, component, can);
}

/**
 * Check a can over the cup; a stop is answered before anything is poured.
 * @param {Weighing} weighing
 * @param {string} component  `a`, `b` or the code of a paste
 * @param {Container} can
 * @returns {Promise<ChosenCan | null>}
 */
export async function checkedCan(weighing, component, can) {
  const { system, known } = weighing;
  const lot = lotOf(can);
  const problem = canProblem(component, system, can, lot, today());
  const chosen = { component, container: can.code, lot: can.lot, reason: '', note: '' };
  if (problem === null) return chosen;
  stopSound();
  const mayPass = REASON_MAY_PASS.has(problem);
  const { value, reason } = await ask({
    kind: 'stop',
    title: t('Stop'),
    shape: stopShape(),
    lines: stopLines(problem, weighing, component, can, lot),
    reason: mayPass ? t('Reason for using it all the same') : null,
    answers: [
      { text: mayPass ? t('Take another can') : t('Put it back'), value: false },
      ...(mayPass ? [{ text: t('Use it for this reason'), value: true, main: true }] : []),
    ],
  });
  if (value) return { ...chosen, reason };
  if (component !== 'b') location.hash = `#/cans/${encodeURIComponent(component)}/${known.code}`;
  return null;
}

/**
 * @param {string} problem
 * @param {Weighing} weighing
 * @param {string} component  `a`, `b` or the code of a paste
 * @param {Container} can
 * @param {Lot | null} lot
 */
function stopLines(problem, weighing, component, can, lot) {
  const { system, known } = weighing;
  const material = materialWanted(component, system);
  const wanted = component === 'b' ? `${material} (${system.hardener_word})` : material;
  /** @type {Record<string, string[]>} */
  const lines = {
    wrong_material: [
      t('This can holds %(held)s.', { held: materialName(can.material) }),
      t('Cup %(code)s needs %(wanted)s. Pour nothing from this can.', { code: known.code, wanted }),
      ...(component === 'b' ? wrongHardenerLines(weighing, can) : []),
    ],
    lot_unknown: [t('Lot %(lot)s of this can is not on record.', { lot: can.lot })],
    quarantined: [t('Lot %(lot)s is in quarantine.', { lot: can.lot })],
    expired: [
      t('Lot %(lot)s expired on %(date)s.', { lot: can.lot, date: lot?.expires_on ?? '' }),
      t('See the data sheet; test it before it goes into a part.'),
    ],
  };
  return lines[problem] ?? [problem];
}

/**
 * What the wrong hardener would make of this cup, and which cups wait for it.
 * @param {Weighing} weighing
 * @param {Container} can
 */
function wrongHardenerLines({ system, cup, scale }, can) {
  const other = (shop()?.systems ?? []).find((one) => one.newest && one.hardener === can.material && one.resin === system.resin);
  const waiting = startedCups().filter((one) => one.cup?.state === 'a_waiting' && one.system?.hardener === can.material);
  const lines = waiting.map((one) => t('It is for cup %(code)s: %(part)s.', { code: one.code, part: one.rows[0].job ? partOf(one.rows[0].job) : t('No job') }));
  if (!other || !(cup.part_a_g > 0)) return lines;
  const errors = swapped(cup.part_a_g, systemRatio(system), systemRatio(other));
  const grams = (/** @type {number} */ ratio) => figure(fixed(hardenerTargetG(cup.part_a_g, ratio), scaleDecimals(scale)));
  const values = { own: grams(systemRatio(system)), other: grams(systemRatio(other)), word: other.hardener_word, by_own: signed(errors.other_by_this), by_other: signed(errors.other_by_other) };
  return [...lines, t('%(own)s g of %(word)s would be %(by_own)s; its own %(other)s g would be %(by_other)s for this cup.', values)];
}

/** A ratio error with its sign. @param {number} error */
function signed(error) {
  return `${error > 0 ? '+' : ''}${figure(fixed(error * 100, 1))} %`;
}

/** @param {string} material */
export function materialName(material) {
  const word = shop()?.systems.find((system) => system.hardener === material)?.hardener_word;
  return word ? `${material} (${word})` : material;
}

/**
 * Choose the can part A or the paste comes from.
 * @param {Weighing} weighing
 * @param {string} component
 */
export function canChoice(weighing, component) {
  const { known, system } = weighing;
  const material = materialWanted(component, system);
  draw(
    'weigh cans',
    cupHeader(known, 1),
    el('h1', { class: 'instruction' }, t('Which can of %(material)s?', { material })),
    component === 'a' && el('a', { class: 'second', href: `#/scan/a/${known.code}` }, t('Scan the can in your hand')),
    canList(weighing, cansOf(material), component, async (can) => {
      await takeFrom(can);
      location.hash = `#/weigh/${known.code}`;
    }),
  );
}

/**
 * From now on this material comes from this can.
 * @param {Container} can
 */
export async function takeFrom(can) {
  const { cans_in_use: inUse } = await facts('cans_in_use');
  await keepFacts({ cans_in_use: { ...inUse, [can.material]: can.code } });
}

/**
 * @param {Weighing} weighing
 * @param {Container[]} cans
 * @param {string} component  `a`, `b` or the code of a paste
 * @param {(can: Container) => unknown} choose
 */
export function canList({ system }, cans, component, choose) {
  const wanted = materialWanted(component, system);
  const rank = (/** @type {Container} */ can) =>
    (can.material === wanted ? 0 : 2) + (canProblem(component, system, can, lotOf(can), today()) ? 1 : 0);
  const sorted = [...cans].sort((a, b) => rank(a) - rank(b));
  return el(
    'ul',
    { class: 'cards' },
    ...sorted.map((can) => {
      const card = button('card', '', () => choose(can));
      const expires = lotOf(can)?.expires_on;
      const expired = expires && expires < today();
      card.append(
        el('span', { class: 'code' }, can.code),
        el(
          'span',
          { class: 'card-lines' },
          el('strong', {}, materialName(can.material)),
          el('span', {}, t('lot %(lot)s', { lot: can.lot }), expired ? ` · ${t('expired')}` : ''),
        ),
      );
      return el('li', {}, card);
    }),
  );
}
