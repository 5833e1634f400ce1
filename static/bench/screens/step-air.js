/** What air and mould have against a layer, asked when it begins. */
import { shop } from '../cups.js';
import { ask } from '../parts/notice.js';
import { stopShape } from '../parts/stop-shape.js';
import { AirWord, coldestC } from '../trade/air.js';
import { isTooCold } from '../trade/lay-up-clocks.js';
import { figure, t } from '../words.js';

/** @typedef {import('../types.js').StepState} StepState */

/**
 * What air and mould are against, each to be answered with a reason.
 * @param {import('../types.js').Air} air
 * @param {StepState} state
 */
export function questions(air, { step }) {
  const card = shop()?.systems.find((one) => one.newest && one.code === step.system) ?? null;
  const coldest = coldestC(air);
  const found = [];
  if (air.word === AirWord.HOLD) found.push(askHold);
  if (air.word === AirWord.ASK) found.push(askToMeasure);
  if (card && coldest !== null && isTooCold(card, coldest)) found.push(() => askTooCold(coldest, card));
  return found;
}

/**
 * @param {number} coldest  degrees Celsius
 * @param {import('../types.js').SystemCard} card
 */
function askTooCold(coldest, { minimum_c, resin, hardener_word }) {
  const values = { coldest: figure(String(coldest)), least: figure(String(minimum_c)), system: `${resin} + ${hardener_word}` };
  return ask({
    kind: 'stop',
    shape: stopShape(),
    title: t('Too cold'),
    lines: [
      t('%(coldest)s °C measured, at least %(least)s °C for %(system)s.', values),
      t('Cold resin wets badly and may never cure. Warm the shop and the mould; the data sheet decides.'),
    ],
    reason: t('Reason'),
    answers: [
      { text: t('Air and mould'), value: 'measure' },
      { text: t('Wait'), value: '' },
      { text: t('Begin for this reason'), value: 'go', main: true },
    ],
  });
}

function askHold() {
  return ask({
    kind: 'stop',
    shape: stopShape(),
    title: t('Hold'),
    lines: [
      t('The mould is too close to the dew point: water on it spoils the bond.'),
      t('Warm the mould or dry the air as the data sheet allows, then measure again.'),
    ],
    reason: t('Reason'),
    answers: [
      { text: t('Air and mould'), value: 'measure' },
      { text: t('Wait'), value: '' },
      { text: t('Begin for this reason'), value: 'go', main: true },
    ],
  });
}

function askToMeasure() {
  return ask({
    title: t('Measure air and mould first'),
    lines: [t('No measurement of the last two hours is whole: whether the mould is dry enough is not known.')],
    reason: t('Reason, if it cannot be measured'),
    answers: [
      { text: t('Air and mould'), value: 'measure' },
      { text: t('Back'), value: '' },
      { text: t('Begin for this reason'), value: 'go', main: true },
    ],
  });
}
