/** What air and mould mean for a cup, in words; nothing where they were not measured of late. */
import { coldestC, workTemperatureC } from '../trade/air.js';
import { potLifeMin } from '../trade/clocks.js';
import { figure, t } from '../words.js';
import { airLine } from './air-words.js';
import { warning } from './frame.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/**
 * Pot life where warmth has shortened it: `31 min at 30 °C, sheet 45 min at 25 °C`; else empty.
 * @param {Weighing} weighing
 */
export function potLifeWords({ system, temperature_c }) {
  const sheet = system.pot_life;
  const minutes = potLifeMin(system, temperature_c);
  const whole = potLifeMin(system, null);
  if (sheet === null || temperature_c === null || minutes === null || whole === null) return '';
  if (minutes >= whole) return '';
  return t('%(minutes)s min at %(shop)s °C, sheet %(sheet)s min at %(at)s °C', {
    minutes,
    shop: figure(String(temperature_c)),
    sheet: figure(String(sheet.minutes)),
    at: figure(String(sheet.temperature_c)),
  });
}

/**
 * Cold lengthens no pot life here, and still the cure takes longer.
 * @param {Weighing} weighing
 * @returns {string[]}
 */
export function colderWords({ system, air }) {
  const work_c = workTemperatureC(air);
  const sheet = system.pot_life;
  if (work_c === null || sheet === null || work_c >= sheet.temperature_c) return [];
  const values = { shop: figure(String(work_c)), at: figure(String(sheet.temperature_c)) };
  return [' ', t('%(shop)s °C, sheet %(at)s °C: slower cure likely; the pot life is not counted longer.', values)];
}

/**
 * @param {Weighing} weighing
 * @returns {string[]}
 */
export function leastTemperatureWords({ system, air }) {
  const least_c = system.minimum_c ?? null;
  const cold_c = coldestC(air);
  if (least_c === null || cold_c === null || cold_c >= least_c) return [];
  const values = { shop: figure(String(cold_c)), least: figure(String(least_c)) };
  return [t('%(shop)s °C is below the sheet’s least temperature, %(least)s °C. Warm shop and mould first, as the data sheet says.', values)];
}

/**
 * Before the hardener is opened: how long the cup will last, and whether the mould is ready.
 * @param {Weighing} weighing
 */
export function hardenerNotes(weighing) {
  const life = potLifeWords(weighing);
  const notes = life ? [t('Pot life: %(life)s.', { life })] : [];
  if (weighing.air.word === 'hold') {
    notes.push(t('%(air)s. Leave the hardener closed until the mould may be laid up.', { air: airLine(weighing.air) }));
  }
  return notes.map((text) => warning(text));
}
