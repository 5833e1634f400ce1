/** Air and mould in words: the answer, its margin, its age, and what is wrong with a figure. */
import { LONGEST_MIN, shownMarginK } from '../trade/air.js';
import { LEAST_MARGIN_K } from '../trade/climate.js';
import { clock, dateAndTime, figure, t } from '../words.js';

/** @typedef {import('../types.js').Air} Air */
/** @typedef {import('../types.js').ClimateCheck} ClimateCheck */

/**
 * The answer in one word or two.
 * @param {Air} air
 */
export function airTitle(air) {
  if (!air.measured_at) return t('Not measured');
  return { go: t('Go'), hold: t('Hold'), ask: t('Measure again') }[air.word];
}

/**
 * How far the mould is from the dew point, or why that is not known.
 * @param {Air} air
 */
export function airSentence(air) {
  if (!air.measured_at) return t('Air, humidity and mould are measured before anything is laid up.');
  if (air.age_min !== null && air.age_min > LONGEST_MIN) {
    return t('The figures are more than 2 hours old.');
  }
  if (air.margin_k === null) return t('One of the three figures is missing or cannot be right.');
  const values = {
    margin: figure(shownMarginK(Math.abs(air.margin_k))),
    least: figure(String(LEAST_MARGIN_K)),
  };
  return air.margin_k < 0
    ? t('mould %(margin)s K below the dew point, 3 K above are asked', values)
    : t('mould %(margin)s K above the dew point, %(least)s K are asked', values);
}

/**
 * One quiet line for a list.
 * @param {Air} air
 */
export function airLine(air) {
  if (air.word === 'ask' || air.margin_k === null) {
    return isOfToday(air) ? t('Air and mould: measure again') : t('Air and mould: not measured today');
  }
  const margin = figure(shownMarginK(air.margin_k));
  return air.word === 'go'
    ? t('Air and mould: go, %(margin)s K', { margin })
    : t('Air and mould: hold, %(margin)s K', { margin });
}

/** @param {Air} air */
function isOfToday({ measured_at }) {
  return measured_at !== '' && new Date(measured_at).toDateString() === new Date().toDateString();
}

/**
 * When the oldest of the three was read.
 * @param {Air} air
 */
export function ageWords({ measured_at, age_min }) {
  if (age_min === null) return '';
  if (age_min > LONGEST_MIN) return t('last measured %(when)s', { when: dateAndTime(measured_at) });
  // Rounded up: an age is never told younger than it is.
  return t('measured at %(time)s, %(age)s min ago', { time: clock(measured_at), age: Math.ceil(age_min) });
}

/**
 * What is wrong with a typed figure.
 * @param {ClimateCheck} check
 * @param {'air' | 'humidity' | 'mould'} component
 * @param {string} typed
 */
export function climateProblemWords({ problem, proposal }, component, typed) {
  const unit = component === 'humidity' ? '%' : '°C';
  const values = { typed: typed.slice(0, 12), proposal: `${figure(proposal)} ${unit}` };
  if (problem === 'empty') return t('Type the figure that the instrument shows.');
  if (problem === 'fahrenheit') {
    return t('%(typed)s is not in 0 to 50 °C. If it is degrees Fahrenheit, that is %(proposal)s: set the thermometer to Celsius and read again.', values);
  }
  if (problem === 'share') return t('%(typed)s looks like a share. Is %(proposal)s meant?', values);
  return component === 'humidity'
    ? t('Humidity “%(typed)s”: allowed is above 1 and up to 100, in per cent.', values)
    : t('Temperature “%(typed)s”: allowed is 0 to 50 °C. Below 0 °C nothing is laid up.', values);
}
