/** The mix clock: when wall, base and stick are scraped half way through, and when it is over. */
import { formatUtc, parseUtc, secondsBetween } from '../times.js';
import { CupState } from './progress.js';

/** @typedef {import('../../types.js').Caution} Caution */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').SystemCard} SystemCard */

/** Stands in the row with the reason under which a cup is called mixed before its time. */
export const MIXED_EARLY = 'mixed_early';
export const SCRAPE = 'scrape_now';
export const LONGER = 'mix_longer';
// Share of the mixing time after which the cup is scraped; common practice, no source.
const SCRAPE_SHARE = 0.5;

/**
 * Times of the mix clock of a cup.
 * @param {Cup} cup
 * @param {SystemCard} system its card; the mixing time is the data sheet's
 * @returns {{scrape_at: string, ends_at: string}} empty where mixing has not begun, or the card
 *   names no time
 */
export function mixTimes({ mix_started_at: startedAt }, { mix_min: minutes }) {
  if (!startedAt || minutes === null) return { scrape_at: '', ends_at: '' };
  const began = parseUtc(startedAt);
  const after = (/** @type {number} */ share) => formatUtc(began + minutes * share * 60000);
  return { scrape_at: after(SCRAPE_SHARE), ends_at: after(1) };
}

/**
 * What the mix clock says: scrape now, mix longer, both, or nothing.
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {string} nowUtc
 * @returns {Caution[]} `scrape_now` from half way until it was scraped, `mix_longer` until the time
 *   is over; with no time on the card `scrape_now` until it was scraped
 */
export function mixCautions(cup, system, nowUtc) {
  if (cup.state !== CupState.MIXING) return [];
  const { scrape_at: scrapeAt, ends_at: endsAt } = mixTimes(cup, system);
  const halfWay = !scrapeAt || secondsBetween(scrapeAt, nowUtc) >= 0;
  /** @type {Caution[]} */
  const cautions = [];
  if (halfWay && !cup.scraped_at) cautions.push(SCRAPE);
  if (endsAt && secondsBetween(endsAt, nowUtc) < 0) cautions.push(LONGER);
  return cautions;
}
