/** Rows of no cup: air and mould, steps of lay-up sheets; of this phone and of the others. */
import { knownRows, shop } from './cups.js';
import { foldAir } from './trade/air.js';
import { cupTemperatureC } from './trade/cup/temperature.js';

/** @typedef {import('./types.js').Row} Row */

/** @returns {Row[]} own rows first, each once */
export function shopRows() {
  const own = knownRows().filter((row) => row.cup === '');
  const held = new Set(own.map((row) => row.event_id));
  const others = shop()?.shop_rows ?? [];
  return [...own, ...others.filter((row) => !held.has(row.event_id))];
}

/** The shop's air and mould as far as this phone knows, now. */
export function airNow() {
  return foldAir(shopRows(), new Date().toISOString());
}

/**
 * The temperature a cup is counted at, now, in degrees Celsius; null where none was measured.
 * @param {string} [firstContactAt]  when resin met hardener; empty where it did not yet
 */
export function cupTemperatureNow(firstContactAt = '') {
  return cupTemperatureC(shopRows(), new Date().toISOString(), firstContactAt);
}
