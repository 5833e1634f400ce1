/** Next cups: what is open, what is planned, and starting one without a plan. */
import { ofShop } from '../alarms.js';
import { clocksNow, keptForClocks } from '../clocks.js';
import { plannedCups, shop, startedCups } from '../cups.js';
import { el } from '../parts/el.js';
import { knownSheets, stepOf } from '../sheets.js';
import { momentWords, stateWords, stepWords } from '../step-words.js';
import { ENDINGS } from '../trade/cup/history.js';
import { t, tn } from '../words.js';
import { airLink } from './air.js';
import { alertNow } from './alert.js';
import { clockTitle } from './clock-words.js';
import { cupCard } from './cup-card.js';
import { draw, stayingHere } from './frame.js';
import { unidentifiedOf } from './unidentified.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */

const DONE_SHOWN = 5;

export async function nextCupsScreen() {
  const stillHere = stayingHere();
  const all = startedCups();
  const lost = all.filter((known) => !['closed', undefined].includes(unidentifiedOf(known)?.state));
  const started = all.filter((known) => unidentifiedOf(known) === null);
  const open = started.filter((known) => !hasEnded(known));
  const done = started.filter(hasEnded).slice(0, DONE_SHOWN);
  const { alert, unsent: total } = await alertNow(() => void nextCupsScreen());
  const clocks = clocksNow(await keptForClocks());
  if (!stillHere()) return;
  draw(
    'next-cups',
    el(
      'header',
      { class: 'top' },
      el('h1', {}, t('Next cups')),
      el(
        'a',
        { class: 'phone-link', href: '#/phone' },
        t('This phone'),
        el('small', {}, total ? tn('%(num)s row unsent', '%(num)s rows unsent', total) : t('all sent')),
      ),
    ),
    alert,
    airLink(),
    sheetsLine(),
    clocksLine(clocks),
    section(t('Unidentified'), lost, 'unidentified'),
    section(t('Open'), open, 'weigh'),
    section(t('Planned'), plannedCups(), 'weigh'),
    open.length + plannedCups().length === 0 && (shop() || !alert) && emptyWords(),
    section(t('Done lately'), done, 'story'),
    el('div', { class: 'quiet-row' }, el('a', { class: 'quiet', href: '#/smeared' }, t('Label cannot be read'))),
    el(
      'div',
      { class: 'actions' },
      el('a', { class: 'action', href: '#/scan' }, t('Scan a label')),
      el('a', { class: 'second', href: '#/start' }, t('Start a cup without a plan')),
    ),
  );
}

/** The way to the lay-up sheets, and what comes next of all of them. */
function sheetsLine() {
  const sheets = knownSheets();
  if (sheets.length === 0) return null;
  const [first] = sheets;
  const state = stepOf(first, first.current);
  const next = state && t('%(part)s: %(step)s, %(state)s', { part: first.part, step: stepWords(state.step.name), state: stateWords(state) });
  return el('a', { class: 'sheets-line', href: '#/sheets' }, el('strong', {}, t('Lay-up sheets')), el('span', {}, next || t('all steps done')));
}

/** The way to the clocks, and the next limit of all of them. @param {import('../types.js').Clock[]} clocks */
function clocksLine(clocks) {
  const first = clocks.find((clock) => !ofShop(clock)) ?? clocks[0];
  const next = first && [clockTitle(first), first.next_at && momentWords(first.next_at)].filter(Boolean).join(' · ');
  return el('a', { class: 'sheets-line', href: '#/clocks' }, el('strong', {}, t('Clocks')), el('span', {}, next || t('No clock runs.')));
}

/** @param {KnownCup} known */
function hasEnded({ cup, rows }) {
  // A cup whose card is not known here cannot be folded; its rows still tell its end.
  return cup ? cup.state === 'closed' : rows.some((row) => ENDINGS.has(row.kind));
}

function emptyWords() {
  const text = shop()
    ? t('No cup is planned. Plan one in the office, or start one without a plan.')
    : t('The shop has not been reached yet. Connect once; then this phone works alone.');
  return el('p', { class: 'empty' }, text);
}

/**
 * @param {string} title
 * @param {KnownCup[]} cups
 * @param {string} target
 */
function section(title, cups, target) {
  if (cups.length === 0) return null;
  return el(
    'section',
    {},
    el('h2', {}, title),
    el(
      'ul',
      { class: 'cards' },
      ...cups.map((known) =>
        el('li', {}, el('a', { class: 'card', href: `#/${target}/${known.code}` }, ...cupCard(known))),
      ),
    ),
  );
}
