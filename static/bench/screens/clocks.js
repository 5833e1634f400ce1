/** Clocks: all that run, the next limit first, each with what to do. */
import { clocksNow, keptForClocks } from '../clocks.js';
import { calendarOf } from '../calendar.js';
import { isDue, isSilenced, ofShop, silence, silenced } from '../alarms.js';
import { offerFile } from '../offer-file.js';
import { button, el } from '../parts/el.js';
import { tempoShape } from '../parts/tempo-shape.js';
import { momentWords, spanWords } from '../step-words.js';
import { t, tn } from '../words.js';
import { clockActWords, clockAddress, clockTitle } from './clock-words.js';
import { draw, plainHeader, stayingHere, warning } from './frame.js';

/** @typedef {import('../types.js').Clock} Clock */

const DAY_MS = 24 * 3600 * 1000;
/** Clocks long enough to be handed to a calendar. */
const FOR_CALENDAR = /^(opens_tack|closes_|opens_cure|opens_demould|full_cure)/;

export async function clocksScreen() {
  const stillHere = stayingHere();
  const kept = await keptForClocks();
  const quiet = await silenced();
  if (!stillHere()) return;
  const clocks = clocksNow(kept);
  const handed = clocks.filter(({ kind, next_at, tempo }) => FOR_CALENDAR.test(kind) && next_at && tempo === 'running');
  draw(
    'clocks',
    plainHeader(t('Clocks')),
    clocks.length ? null : el('p', { class: 'empty' }, t('No clock runs.')),
    section(t('Cups and steps'), clocks.filter((clock) => !ofShop(clock)), quiet),
    section(t('The shop'), clocks.filter(ofShop), quiet),
    el('div', { class: 'actions' }, handed.length ? button('second', t('Hand to the calendar'), () => handOver(handed)) : null),
    warning(t('A locked screen or a closed app may stay silent: this phone does not let the app ring then. Hand long times to its calendar, which rings.')),
    noticeKey(),
  );
  follow(clocks);
}

/**
 * @param {string} title
 * @param {Clock[]} clocks  by their next limit
 * @param {Set<string>} quiet
 */
function section(title, clocks, quiet) {
  if (clocks.length === 0) return null;
  const cards = clocks.map((clock) => el('li', {}, card(clock, isSilenced(clock, quiet))));
  return el('section', {}, el('h2', {}, title), el('ul', { class: 'cards' }, ...cards));
}

/** A moment far away is told in days. @param {string} at */
function far(at) {
  const days = Math.floor(Math.abs(Date.parse(at) - Date.now()) / DAY_MS);
  return days < 2 ? spanWords(at) : tn('%(num)s day', '%(num)s days', days);
}

/**
 * @param {Clock} clock
 * @param {boolean} isQuiet
 */
function card(clock, isQuiet) {
  const { next_at, since, tempo } = clock;
  const left = el('span', { class: 'clock-left', 'data-at': next_at }, next_at ? far(next_at) : '—');
  const limit = next_at ? momentWords(next_at) : '';
  const began = since ? t('since %(time)s', { time: momentWords(since) }) : '';
  return el(
    'article',
    { class: `card clock clock-${tempo}` },
    el(
      'a',
      { class: 'clock-link', href: `#/${clockAddress(clock)}` },
      tempoShape(tempo),
      el('span', { class: 'clock-figure' }, left, el('small', {}, [tempoWords(tempo, next_at), limit].filter(Boolean).join(' '))),
      el('span', { class: 'card-lines' }, el('strong', {}, clockTitle(clock)), el('span', {}, clockActWords(clock)), el('small', {}, [began, isQuiet ? t('silenced') : ''].filter(Boolean).join(' · '))),
    ),
    isDue(clock) && !isQuiet
      ? button('quiet', t('Silence it'), async () => {
          await silence(clock);
          await clocksScreen();
        })
      : null,
  );
}

/**
 * @param {Clock['tempo']} tempo
 * @param {string} next_at
 */
function tempoWords(tempo, next_at) {
  if (!next_at) return t('no limit on the card');
  return { running: t('until'), soon: t('soon:'), over: t('over since'), open: t('open since') }[tempo];
}

/** Figures follow the time; the list is drawn anew when a clock changes. @param {Clock[]} clocks */
function follow(clocks) {
  const stillHere = stayingHere();
  const drawn = document.querySelector('#screen > *');
  const said = clocks.map(({ kind, about, tempo }) => `${kind}${about}${tempo}`).join();
  const tick = async () => {
    if (!drawn?.isConnected || !stillHere()) return;
    for (const figure of document.querySelectorAll('.clock-left[data-at]')) {
      const at = figure.getAttribute('data-at');
      if (at) figure.textContent = far(at);
    }
    const now = clocksNow(await keptForClocks()).map(({ kind, about, tempo }) => `${kind}${about}${tempo}`).join();
    if (now !== said && drawn.isConnected && stillHere()) return void clocksScreen();
    setTimeout(() => void tick(), 1000);
  };
  setTimeout(() => void tick(), 1000);
}

/** @param {Clock[]} clocks */
function handOver(clocks) {
  const times = clocks.map((clock) => ({
    uid: `${[clock.kind, clock.about, clock.job, clock.since || clock.next_at].join('.').replace(/[^A-Za-z0-9.]/g, '-')}@scale-companion`,
    at: clock.next_at,
    title: clockTitle(clock),
    text: `${clockActWords(clock)} ${t('The data sheet decides.')}`,
  }));
  return offerFile('clocks.ics', 'text/calendar', calendarOf(times, new Date().toISOString()));
}

/** Where the phone can show notices while the app lies in the background. */
function noticeKey() {
  if (typeof Notification === 'undefined') return el('p', {}, t('This phone shows no notices of an app.'));
  if (Notification.permission === 'granted') return el('p', {}, t('Notices are allowed: they show while the app is in the background, not once it is closed.'));
  if (Notification.permission === 'denied') return el('p', {}, t('Notices of this app are switched off in the settings of the phone.'));
  return button('quiet', t('Allow notices in the background'), async () => {
    await Notification.requestPermission();
    await clocksScreen();
  });
}
