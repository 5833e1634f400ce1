/** Air and mould: may this mould be laid up now, and what to do if not. */
import { airNow } from '../shop-rows.js';
import { airShape } from '../parts/air-shape.js';
import { el } from '../parts/el.js';
import { humidityLimitPct } from '../trade/air.js';
import { fixed } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { ageWords, airLine, airSentence, airTitle } from './air-words.js';
import { draw, plainHeader, warning } from './frame.js';

/** @typedef {import('../types.js').Air} Air */

const LOOK_AGAIN_MS = 20000;

export function airScreen() {
  const air = airNow();
  const header = plainHeader(t('Air and mould'));
  draw(
    'air',
    header,
    answer(air),
    air.measured_at ? figures(air) : null,
    el('div', { class: 'words' }, ...advice(air)),
    el(
      'div',
      { class: 'actions' },
      el('a', { class: 'action', href: '#/measure' }, air.measured_at ? t('Measure again') : t('Measure')),
    ),
  );
  // An answer grows old while it is looked at.
  setTimeout(() => header.isConnected && airScreen(), LOOK_AGAIN_MS);
}

/**
 * The line that leads here from a list.
 * @returns {HTMLElement}
 */
export function airLink() {
  const air = airNow();
  return el('a', { class: `air-link air-${air.word}`, href: '#/air' }, airShape(air.word), airLine(air));
}

/** @param {Air} air */
function answer(air) {
  const look = { go: 'verdict-in', hold: 'verdict-out', ask: '' }[air.word];
  return el(
    'section',
    { class: `verdict ${look}`, role: 'status' },
    airShape(air.word),
    el('div', {}, el('h1', {}, airTitle(air)), el('p', {}, airSentence(air))),
  );
}

/** @param {Air} air */
function figures(air) {
  const limit = humidityLimitPct(air);
  const shown = /** @type {[string, number | null, string][]} */ ([
    [t('Air'), air.air_c, '°C'],
    [t('Humidity'), air.humidity_pct, '%'],
    [t('Mould'), air.mould_c, '°C'],
  ]).map(([name, value, unit]) => [name, value === null ? t('not measured') : `${figure(String(value))} ${unit}`]);
  if (air.dew_point_c !== null) shown.push([t('Dew point'), `${figure(fixed(air.dew_point_c, 1))} °C`]);
  if (limit !== null) shown.push([t('Largest humidity for this mould'), `${limit} %`]);
  return el(
    'div',
    {},
    el('dl', {}, ...shown.flatMap(([name, value]) => [el('dt', {}, name), el('dd', {}, value)])),
    el('p', { class: 'air-age' }, ageWords(air)),
  );
}

/** @param {Air} air */
function advice(air) {
  if (air.word === 'hold') {
    return [
      el('h2', {}, t('Do not lay up yet')),
      el('p', {}, t('Warm the mould or dry the air, wait, then measure again.')),
      warning(t('Heat only as the data sheet says, and never with a flame: solvent and resin vapours burn.')),
    ];
  }
  if (air.word === 'go') {
    return [
      el('p', {}, t('Measure again within 2 hours, and when the weather or the heating changes.')),
      warning(t('Blush can come above the dew point. The data sheet of the system decides.')),
    ];
  }
  return [el('p', {}, t('Hold the thermometer on the mould, where the laminate will lie; the air does not tell the mould’s temperature.'))];
}
