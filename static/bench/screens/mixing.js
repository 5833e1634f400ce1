/** Mixing: its clock, the scraping half way, and usable only after it. */
import { nowMs } from '../moment.js';
import { button, el } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { verdictWord } from '../parts/verdict.js';
import { MIXED_EARLY } from '../trade/cup/mixing.js';
import { t } from '../words.js';
import { cupHeader, draw, warning } from './frame.js';
import { overLargest } from './judged.js';
import { pasteNotes } from './paste-notes.js';
import { goOn, potClock, potWarning, scrapFirst } from './pot.js';
import { quietRow } from './verdict-steps.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/** @param {Weighing} weighing */
export function mixingStep(weighing) {
  const { advice, cup, known } = weighing;
  const scrape = advice.cautions.includes('scrape_now');
  const longer = advice.cautions.includes('mix_longer');
  draw(
    'weigh judged mixing',
    cupHeader(known, 3),
    potWarning(weighing),
    el('p', { class: 'under-figure' }, el('strong', {}, t('Mixing')), el('span', {}, verdictWord(cup))),
    ...mixClock(weighing),
    el('h1', { class: 'instruction', role: 'status' }, wordsNow(weighing, scrape, longer)),
    el('div', { class: 'words' }, ...overLargest(weighing), potClock(weighing), ...pasteNotes(weighing).map((text) => warning(text))),
    el('div', { class: 'actions' }, ...keys(weighing, scrape, longer).filter((key) => key !== null)),
  );
}

/**
 * @param {Weighing} weighing
 * @param {boolean} scrape
 * @param {boolean} longer
 * @returns {(Node | null)[]}
 */
function keys(weighing, scrape, longer) {
  return [
    scrapFirst(weighing),
    scrape ? button('action', t('Scraped'), () => weighing.keep([{ kind: 'scraped' }])) : null,
    scrape || longer ? null : goOn(weighing, t('Mixed, no streaks'), { kind: 'mixed' }),
    quietRow(weighing),
    longer ? el('div', { class: 'quiet-row' }, button('quiet', t('Mixed before its time'), () => mixedEarly(weighing))) : null,
  ];
}

/**
 * @param {Weighing} weighing
 * @param {boolean} scrape
 * @param {boolean} longer
 */
function wordsNow({ cup, system }, scrape, longer) {
  if (scrape) return t('Scrape wall, base and stick now, then mix on.');
  if (system.mix_min === null) return t('No mixing time is on the card: as the data sheet says. No streaks.');
  if (!longer) return t('Scrape once more. No streaks: then it is mixed.');
  return cup.scraped_at
    ? t('Scraped. Mix on until %(time)s, slowly, without beating in air.', { time: minutesAndSeconds(system.mix_min * 60) })
    : t('Wall and base, too, slowly. Scrape half way, at %(time)s.', { time: minutesAndSeconds(system.mix_min * 30) });
}

/** How long it is being mixed, as large as can be, and how long in all. @param {Weighing} weighing */
function mixClock({ cup, system }) {
  const elapsed = el('span', { class: 'giant-figure elapsed' }, '');
  const began = Date.parse(cup.mix_started_at);
  const tick = () => {
    const seconds = Math.max(0, Math.floor((nowMs() - began) / 1000));
    elapsed.textContent = minutesAndSeconds(seconds);
    if (elapsed.isConnected || seconds < 2) setTimeout(tick, 1000);
  };
  tick();
  const whole = system.mix_min === null ? '' : t('of %(time)s', { time: minutesAndSeconds(system.mix_min * 60) });
  const clock = el('p', { class: 'giant mix-clock' }, elapsed, el('span', { class: 'giant-unit' }, whole));
  clock.style.setProperty('--characters', '6');
  return [clock];
}

/** @param {number} seconds */
function minutesAndSeconds(seconds) {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

/** @param {Weighing} weighing */
async function mixedEarly(weighing) {
  const { value, reason } = await ask({
    title: t('Mixed before its time?'),
    lines: [t('A cup stirred too short has soft spots. The reason is recorded with your name.'), warningOfScrape(weighing)].filter(Boolean),
    reason: t('Reason'),
    answers: [
      { text: t('Mix on'), value: false },
      { text: t('Mixed, for this reason'), value: true, main: true },
    ],
  });
  if (!value) return;
  await weighing.keep([{ kind: 'deviation', note: reason, shown: MIXED_EARLY, refers_to: weighing.cup.id }, { kind: 'mixed' }]);
}

/** @param {Weighing} weighing */
function warningOfScrape({ cup }) {
  return cup.scraped_at ? '' : t('Wall, base and stick were not scraped yet.');
}

/**
 * What stands beside a mix that was called mixed before its time.
 * @param {Weighing} weighing
 */
export function earlyWords({ cup }) {
  return cup.mix_reason ? warning(t('Mixed before its time: %(reason)s', { reason: cup.mix_reason })) : null;
}
