/** Rows of a cup in words. */
import { clock, t } from '../words.js';

/** @typedef {import('../types.js').Row} Row */

/** @param {Row} row */
export function kindWords(row) {
  const part = { cup: t('empty cup'), a: t('part A'), b: t('hardener') }[row.component] ?? (row.component && t('paste %(code)s', { code: row.component }));
  /** @type {Record<string, string>} */
  const words = {
    cup_started: row.refers_to ? t('Share of the mix in %(code)s', { code: row.target }) : t('Cup started, planned'),
    labelled: t('New label'),
    weighed: t('Display after %(part)s', { part }),
    rezeroed: t('Tare pressed, display'),
    scale_restarted: t('Scale restarted, display'),
    lot_used: t('Can of %(part)s', { part }),
    pour_opened: t('Hardener opened'),
    mix_started: t('Mixing began'),
    mixed: t('Mixed'),
    poured: t('Poured into the part'),
    leftover: t('Left over'),
    scrapped: t('Scrapped'),
    sampled: t('Kept as a sample'),
    felt_warm: t('Felt warm'),
    scraped: t('Scraped half way'),
    divided: t('Divided into %(codes)s', { codes: row.note }),
    covered: t('Covered'),
    uncovered: t('Cover taken off'),
    setting: t('Left to set'),
    disposed: t('Cold and hard'),
    deviation: t('Deviation'),
    note: t('Note'),
    away: t('The app was away since %(time)s', { time: row.kind === 'away' && row.target ? clock(row.target) : '' }),
    unidentified: t('Unidentified, on the scale'),
    voided: t('Struck'),
    aside_settled: t('The office decided on a row set aside'),
  };
  return words[row.kind] ?? row.kind;
}

/** @param {string} shown */
export function shownWords(shown) {
  /** @type {Record<string, string>} */
  const words = {
    in: t('In'),
    in_unproven: t('In, unproven'),
    out_unproven: t('Out, unproven'),
    out: t('Out'),
    unknown: t('Ratio unknown'),
    pot_life_over: t('Past its pot life'),
    mixed_early: t('Mixed before its time'),
    left_out: t('left out'),
    taken_in: t('taken in'),
  };
  return words[shown] ?? shown;
}
