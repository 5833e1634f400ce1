/** Clocks in words: what runs, and what to do when its limit comes. */
import { partOf } from '../cups.js';
import { stepWords } from '../step-words.js';
import { t } from '../words.js';

/** @typedef {import('../types.js').Clock} Clock */

/** What runs, and for whom. @param {Clock} clock */
export function clockTitle({ kind, about, job }) {
  /** @type {Record<string, string>} */
  const words = {
    a_waiting: t('Part A waits'),
    pot: t('Pot life'),
    auto_off: t('Scale switches off'),
    scrape: t('Mixing'),
    mixing: t('Mixing'),
    open_time: t('Resin on the part'),
    setting: t('Left to set'),
    full_cure: t('Full cure'),
    climate: t('Air and mould'),
    check: t('Check weight'),
    expiry: t('Lot'),
    copy: t('Copy of the records'),
  };
  const step = job ? [partOf(job), stepWords(about)].join(' · ') : about;
  return [words[kind], step].filter(Boolean).join(' · ');
}

/** What to do now, or when the limit comes. @param {Clock} clock */
export function clockActWords({ kind, tempo, next_at }) {
  const over = tempo === 'over';
  /** @type {Record<string, () => string>} */
  const words = {
    a_waiting: () => (over ? t('Waited too long: look for dust and skin, read A again, or scrap it.') : t('Until then: cover it, or take the hardener.')),
    pot: () => potWords(tempo, next_at),
    auto_off: () => (over ? t('It may be off: go back to the cup, and recover it from its gross.') : t('Touch the pan, or go on with the cup.')),
    scrape: () => t('Scrape wall, base and stick.'),
    mixing: () => t('Scrape once more. No streaks: then it is mixed.'),
    open_time: () => t('How long it may be worked is not on the card: see the data sheet. Then stop, peel ply on.'),
    setting: () => t('Feel it from the side, keep it in view; cold and hard: record where it goes.'),
    full_cure: () => t('From then on cut, sand and load it. The data sheet decides.'),
    climate: () => t('Measure air and mould again before the next layer.'),
    check: () => (over ? t('Put the check weight on before the next cup, and record it in the office.') : t('Check weight each day, and after a knock.')),
    expiry: () => (over ? t('Expired: quarantine it, or test its gel time; the data sheet decides.') : t('Expires soon: use it first, or order.')),
    copy: () => (over ? t('Send the rows or share the log today.') : t('Send the rows, or share the log, by then.')),
  };
  return words[kind]?.() ?? stepActWords(kind, tempo);
}

/**
 * @param {Clock['tempo']} tempo
 * @param {string} next_at
 */
function potWords(tempo, next_at) {
  if (!next_at) return t('No pot life is on the card: see the data sheet. Feel the cup.');
  if (tempo === 'over') return t('Do not lay it up: shallow open tray, in view. Do not carry a warm cup.');
  return tempo === 'soon' ? t('Three quarters are gone: use it up now, or scrap it.') : t('Three quarters by then: use it up. Feel the cup.');
}

/**
 * @param {string} kind
 * @param {Clock['tempo']} tempo
 */
function stepActWords(kind, tempo) {
  const [limit, ...rest] = kind.split('_');
  const step = rest.join('_');
  if (limit === 'closes') {
    return tempo === 'over'
      ? t('The window has closed: secondary bond. Wash, abrade, wipe.')
      : t('Have the next layer down by then.');
  }
  /** @type {Record<string, string>} */
  const opens = {
    tack: t('Finger test: a print stays, the finger stays clean.'),
    cure: t('Demould when the sample is hard, not before.'),
    demould: t('Demould when the sample is hard, not before.'),
    release: t('Flashed off: next coat, or go on.'),
    surface_coat: t('Released: coat the mould.'),
    ply: t('The next layer may go on.'),
  };
  return opens[step] ?? t('The next step may begin.');
}

/** Where one acts on a clock. @param {Clock} clock */
export function clockAddress({ kind, about, job }) {
  if (job) return `step/${encodeURIComponent(job)}/${encodeURIComponent(about)}`;
  /** @type {Record<string, string>} */
  const places = { climate: 'measure', check: 'crew/clocks', expiry: '', copy: 'phone' };
  return places[kind] ?? `weigh/${about.split(' ').at(-1)}`;
}
