/** Start a cup without a plan: choose the system, then the total, or the A there is. */
import { cupLabelled, shop } from '../cups.js';
import { button, el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { planHere } from '../record.js';
import { cupTemperatureNow } from '../shop-rows.js';
import { isLabel } from '../trade/codes.js';
import { systemName, systemRatio } from '../trade/cards.js';
import { largestMixG } from '../trade/clocks.js';
import { fixed, parseEntry } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { takenWords } from './bind.js';
import { draw, go, plainHeader } from './frame.js';
import { entryProblemWords } from './problem-words.js';
import { noCodeStep } from './stops.js';

/** @typedef {import('../types.js').SystemCard} SystemCard */

/** @param {string} given  code of a blank label at hand; empty takes one of this phone's block */
export async function startScreen(given) {
  if (given && !isLabel(given)) return noCodeStep(given);
  const systems = (shop()?.systems ?? []).filter((system) => system.newest);
  draw(
    'start',
    plainHeader(t('Start a cup without a plan')),
    given ? el('p', {}, el('span', { class: 'code' }, given)) : null,
    systems.length
      ? el('h2', {}, t('Which system?'))
      : el('p', {}, t('No system is known here. Enter one in the office, then connect once.')),
    el(
      'div',
      { class: 'cards' },
      ...systems.map((system) => systemCard(system, given)),
    ),
  );
}

/**
 * @param {SystemCard} system
 * @param {string} given
 */
function systemCard(system, given) {
  const card = button('card', '', () => amountScreen(system, 'total', given));
  card.append(
    el('strong', {}, `${system.resin} + ${system.hardener_word}`),
    el('span', {}, `100:${figure(String(system.part_b_pbw))} · ${systemName(system)}`),
  );
  return card;
}

/**
 * @param {SystemCard} system
 * @param {'total' | 'part_a'} meaning  of the figure
 * @param {string} given
 */
async function amountScreen(system, meaning, given) {
  const jobs = shop()?.jobs ?? [];
  const problem = el('p', { class: 'problem', role: 'alert' });
  const job = el(
    'select',
    { id: 'job' },
    el('option', { value: '' }, t('No job')),
    ...jobs.map((card) => el('option', { value: `${card.code}@${card.revision}` }, card.part)),
  );
  const label = meaning === 'total' ? t('total, g') : t('A, g');
  const other = meaning === 'total' ? 'part_a' : 'total';
  draw(
    'start-amount',
    plainHeader(`${system.resin} + ${system.hardener_word}`, given ? `start/${given}` : 'start'),
    el('label', { for: 'job' }, t('For')),
    job,
    el('h2', {}, meaning === 'total' ? t('How much in total?') : t('How much A do you have?')),
    el('p', {}, t('largest cup %(largest)s g', { largest: figure(String(largestHere(system))) })),
    button(
      'second',
      meaning === 'total' ? t('I have this much A') : t('I know the total'),
      () => amountScreen(system, other, given),
    ),
    problem,
    keypad({
      label,
      onread: async (typed) => {
        const { total, words } = totalOf(typed, system, meaning);
        problem.textContent = words;
        if (!words) await start({ system, total, job: job.value, given }, problem);
      },
    }),
  );
}

/**
 * Largest cup of a system in the shop as it was last measured, grams.
 * @param {SystemCard} system
 */
function largestHere(system) {
  return largestMixG(system, cupTemperatureNow());
}

/**
 * @param {string} typed
 * @param {SystemCard} system
 * @param {'total' | 'part_a'} meaning
 * @returns {{total: string, words: string}}
 */
function totalOf(typed, system, meaning) {
  const entry = parseEntry(typed);
  if (entry.problem) return { total: '', words: entryProblemWords(entry.problem, typed) };
  const typed_g = Number(entry.value);
  const total_g = meaning === 'total' ? typed_g : typed_g * (1 + systemRatio(system));
  if (!(total_g > 0)) return { total: '', words: t('More than 0 g is needed.') };
  const largest_g = largestHere(system);
  if (total_g > largest_g + 1e-9) {
    const words = t('%(total)s g is more than the largest cup of this system, %(largest)s g.', {
      total: figure(fixed(total_g, 1)),
      largest: figure(String(largest_g)),
    });
    return { total: '', words };
  }
  return { total: meaning === 'total' ? entry.value : fixed(total_g, 3), words: '' };
}

/**
 * @param {{system: SystemCard, total: string, job: string, given: string}} cup
 * @param {HTMLElement} problem
 */
async function start({ system, total, job, given }, problem) {
  const taken = given && cupLabelled(given)?.rows.length !== 0 ? takenWords(given) : '';
  if (taken) {
    problem.textContent = taken;
    return;
  }
  const plan = { job, step: '', system: systemName(system), total, cup_type: '', cup_mass: '' };
  const code = await planHere(plan, given);
  if (code) go(`weigh/${code}`);
  else problem.textContent = t('This phone has no cup codes left. Connect to the shop once.');
}
