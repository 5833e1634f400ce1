/** Mixing: its clock, the scraping half way, and usable only after it. */
import { button, el } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { MIXED_EARLY } from '../trade/cup/mixing.js';
import { t } from '../words.js';
import { warning } from './frame.js';
import { judged, overLargest } from './judged.js';
import { goOn, potClock, scrapFirst } from './pot.js';
import { quietRow } from './verdict-steps.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/** @param {Weighing} weighing */
export function mixingStep(weighing) {
  const { advice, system } = weighing;
  const scrape = advice.cautions.includes('scrape_now');
  const longer = advice.cautions.includes('mix_longer');
  judged(
    weighing,
    [
      mixClock(weighing),
      el('p', { class: 'mix-words' }, wordsNow(weighing, scrape, longer)),
      ...overLargest(weighing),
      potClock(weighing),
    ],
    [
      scrapFirst(weighing),
      scrape ? button('action', t('Scraped'), () => weighing.keep([{ kind: 'scraped' }])) : null,
      scrape || longer ? null : goOn(weighing, t('Mixed, no streaks'), { kind: 'mixed' }),
      longer && !scrape ? el('p', { class: 'action waiting', role: 'status' }, t('Mix on until %(time)s', { time: minutesAndSeconds((system.mix_min ?? 0) * 60) })) : null,
      quietRow(weighing),
      longer ? el('div', { class: 'quiet-row' }, button('quiet', t('Mixed before its time'), () => mixedEarly(weighing))) : null,
    ],
  );
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
    ? t('Scraped. Mix on, slowly, without beating in air.')
    : t('Wall and base, too, slowly. Scrape half way, at %(time)s.', { time: minutesAndSeconds(system.mix_min * 30) });
}

/** How long it is being mixed, and how long in all. @param {Weighing} weighing */
function mixClock({ cup, system }) {
  const elapsed = el('strong', { class: 'elapsed' }, '');
  const began = Date.parse(cup.mix_started_at);
  const tick = () => {
    const seconds = Math.max(0, Math.floor((Date.now() - began) / 1000));
    elapsed.textContent = minutesAndSeconds(seconds);
    if (elapsed.isConnected || seconds < 2) setTimeout(tick, 1000);
  };
  const whole = system.mix_min === null ? '' : ` / ${minutesAndSeconds(system.mix_min * 60)}`;
  tick();
  return el('h2', { class: 'mix-clock' }, t('Mixing'), ' ', elapsed, whole);
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
