/** After the hardener: the verdict and its one correction. */
import { button, el } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { fixed } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { judged, overLargest } from './judged.js';
import { goOn, potClock, scrapFirst } from './pot.js';
import { leftToSet } from './watch.js';
import { display } from './target-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/** @param {Weighing} weighing */
export function verdictStep(weighing) {
  const { advice } = weighing;
  if (advice.action === 'correct') return correctStep(weighing);
  if (advice.action === 'scrap') return scrapStep(weighing);
  judged(
    weighing,
    [
      el('h2', {}, mixWords(weighing)),
      ...overLargest(weighing),
      potClock(weighing),
    ],
    [
      scrapFirst(weighing),
      goOn(weighing, t('Start mixing'), { kind: 'mix_started' }),
      button('second', t('Lift, set down, read again'), () => weighing.again('again')),
    ],
  );
}

/** @param {Weighing} weighing */
function correctStep(weighing) {
  const { advice, known } = weighing;
  const stop = figure(display(advice.display_stop_g ?? 0, weighing));
  const part = advice.component.toUpperCase();
  const add = figure(fixed(advice.add_g ?? 0, 1));
  judged(
    weighing,
    [
      el(
        'section',
        { class: 'correction' },
        el('p', {}, t('Correct it once, now:')),
        el('h2', {}, t('add %(add)s g %(part)s, stop at %(stop)s', { add, part, stop })),
        ...overLargest(weighing, advice.total_g ?? 0),
      ),
    ],
    [
      button('action', t('Pour %(part)s to %(stop)s', { part, stop }), () => weighing.again('correcting')),
      el('a', { class: 'second', href: `#/scrap/${known.code}` }, t('Scrap this cup')),
      quietRow(weighing),
    ],
  );
}

/** @param {Weighing} weighing */
function scrapStep(weighing) {
  const { advice, known, cup } = weighing;
  /** @type {Record<string, string>} */
  const reasons = {
    felt_warm: t('It felt warm: it is too late to correct it.'),
    two_corrections: t('Two corrections have been made: no third.'),
    mixed: t('It is mixed: it is too late to correct it.'),
    mixing_too_long: t('Mixing began more than 3 minutes ago: it is too late to correct it.'),
    pot_life_third: t('A third of the pot life is over: it is too late to correct it.'),
    part_missing: t('One of the two parts was never weighed.'),
    reading_missing: t('A reading is missing, so how much went in is not known.'),
    no_first_reading: t('The empty cup was never read.'),
    falling_reading: t('The display went down between two readings.'),
    restart_without_cup: t('The scale was restarted and the cup was never read.'),
    mix_missing: t('It is a share of a mix that is not known on this phone.'),
    divided_unmixed: t('Its mix was divided before it was mixed, so no share is like another.'),
    unidentified: t('Nobody can say which cup it is.'),
  };
  judged(
    weighing,
    [el('h2', {}, t('Scrap it, or keep it as a sample.')), el('p', {}, reasons[advice.reason] ?? ''), potClock(weighing)],
    [
      el('a', { class: 'action', href: `#/scrap/${known.code}` }, t('Scrap this cup')),
      button('second', t('Keep as a sample'), () => weighing.keep([{ kind: 'sampled', note: advice.reason }, ...leftToSet(cup, t('sample'))])),
      quietRow(weighing),
    ],
  );
}

/** @param {Weighing} weighing */
function mixWords({ system }) {
  return system.mix_min === null
    ? t('Mix as the data sheet says. Scrape wall, base and stick.')
    : t('Mix %(minutes)s min. Scrape wall, base and stick.', { minutes: figure(String(system.mix_min)) });
}

/** @param {Weighing} weighing */
export function quietRow(weighing) {
  const { cup, known } = weighing;
  return el(
    'div',
    { class: 'quiet-row' },
    cup.last_reading_id ? button('quiet', t('Read again'), () => weighing.again('again')) : null,
    cup.felt_warm ? null : button('quiet', t('Feels warm'), () => weighing.keep([{ kind: 'felt_warm' }])),
    cup.verdict?.startsWith('out') && !cup.deviation
      ? button('quiet', t('Use with a written reason'), () => deviate(weighing))
      : null,
    el('a', { class: 'quiet', href: `#/strike/${known.code}` }, t('Undo')),
  );
}

/** @param {Weighing} weighing */
async function deviate(weighing) {
  const { value, reason } = await ask({
    title: t('Use a cup that is out?'),
    lines: [t('It may stay soft or brittle. The reason is recorded with your name.')],
    reason: t('Reason'),
    answers: [
      { text: t('No'), value: false },
      { text: t('Use it for this reason'), value: true, main: true },
    ],
  });
  if (!value) return;
  await weighing.keep([{ kind: 'deviation', note: reason, refers_to: weighing.cup.last_reading_id }]);
}
