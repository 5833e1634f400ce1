/** What happened to the scale: tare pressed with the cup on it is said, and the target changes. */
import { ask } from '../parts/notice.js';
import { scaleDecimals } from '../trade/cards.js';
import { fixed } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { go } from './frame.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/** @param {Weighing} weighing */
export function scaleKey(weighing) {
  return { text: t('Tare or off?'), act: () => whatHappened(weighing) };
}

/**
 * What happened to the scale: tare was pressed, or it lost its zero.
 * @param {Weighing} weighing
 */
async function whatHappened(weighing) {
  const { value } = await ask({
    title: t('What happened to the scale?'),
    answers: [
      { text: t('I pressed tare'), value: 'tare', main: true },
      { text: t('It went off, or was knocked'), value: 'off' },
      { text: t('Nothing'), value: '' },
    ],
  });
  if (value === 'tare') await rezero(weighing);
  if (value === 'off') go(`restarted/${weighing.known.code}`);
}

/** @param {Weighing} weighing */
export async function rezero(weighing) {
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
