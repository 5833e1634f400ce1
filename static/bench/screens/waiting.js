/** Part A that waits for its hardener: how long, how long uncovered, and what to do about it. */
import { nowUtc } from '../moment.js';
import { button, el } from '../parts/el.js';
import { COVERED_LONG, UNCOVERED_LONG, waiting } from '../trade/cup/waiting.js';
import { clock, t, tn } from '../words.js';
import { warning } from './frame.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/** Minutes from which the wait is worth a word. */
const WORTH_A_WORD_MIN = 2;

/** @param {Weighing} weighing */
export function waitingNotes(weighing) {
  const { advice } = weighing;
  const words = el('span', { class: 'waiting-words' });
  const tick = () => {
    words.textContent = waitingWords(weighing);
    setTimeout(() => words.isConnected && tick(), 1000);
  };
  tick();
  const long = advice.cautions.some((caution) => caution === UNCOVERED_LONG || caution === COVERED_LONG);
  if (!long) return [el('p', {}, words)];
  return [warning(words, ' ', t('Too long: look for dust and skin, lift it, set it down and read A again; or scrap it.'))];
}

/** @param {Weighing} weighing */
function waitingWords({ cup }) {
  const waited = waiting(cup, nowUtc());
  if (!waited || (waited.since_min < WORTH_A_WORD_MIN && !waited.covered)) return '';
  const bare = Math.floor(waited.uncovered_min);
  return [
    t('A waits since %(time)s.', { time: clock(cup.a_weighed_at) }),
    waited.covered ? t('Covered.') : '',
    bare ? tn('%(num)s minute uncovered.', '%(num)s minutes uncovered.', bare) : '',
  ].filter(Boolean).join(' ');
}

/** Say that it was covered, or that the cover came off. @param {Weighing} weighing */
export function coverKey(weighing) {
  const waited = waiting(weighing.cup, nowUtc());
  return waited?.covered
    ? button('quiet', t('Cover taken off'), () => weighing.keep([{ kind: 'uncovered' }]))
    : button('quiet', t('Covered'), () => weighing.keep([{ kind: 'covered' }]));
}
