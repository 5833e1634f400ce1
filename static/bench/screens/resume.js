/** The app was away in the middle of a cup: where the person was, how long ago, and what runs on. */
import { cupLabelled } from '../cups.js';
import { el } from '../parts/el.js';
import { POT_LIFE_WARN_SHARE } from '../trade/constants.js';
import { potLifeEndsAt } from '../trade/cup/pot-clock.js';
import { nowMs } from '../moment.js';
import { clock, figure, t, tn } from '../words.js';
import { stateLine } from './cup-card.js';
import { cupHeader, draw, go } from './frame.js';
import { potClock } from './pot.js';
import { prepare } from './weigh.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/** @param {string} code */
export function resumeScreen(code) {
  const known = cupLabelled(code);
  const weighing = known && prepare(known, '');
  const gap = known?.rows.findLast((row) => row.kind === 'away');
  if (!weighing || !gap) return go(`weigh/${code}`);
  const { cup } = weighing;
  const minutes = Math.floor((Date.parse(gap.recorded_at) - Date.parse(gap.target)) / 60000);
  draw(
    'resume',
    cupHeader(weighing.known, 2),
    el('h1', {}, agoWords(minutes)),
    el('p', { class: 'big' }, cup.state === 'b_open' ? t('B result unknown') : stateLine(weighing.known)),
    el('p', {}, t('The app was away from %(from)s to %(to)s.', { from: clock(gap.target), to: clock(gap.recorded_at) })),
    potLine(weighing),
    potClock(weighing),
    el(
      'div',
      { class: 'actions' },
      el('a', { class: 'action', href: `#/weigh/${code}` }, t('Go on')),
      el('a', { class: 'second', href: `#/restarted/${code}` }, t('The scale went off, too')),
      el('a', { class: 'quiet', href: '#/' }, t('Next cups')),
    ),
  );
}

/** @param {number} minutes */
function agoWords(minutes) {
  return minutes < 120
    ? tn('You were here %(num)s minute ago', 'You were here %(num)s minutes ago', minutes)
    : tn('You were here %(num)s hour ago', 'You were here %(num)s hours ago', Math.floor(minutes / 60));
}

/** How much of the pot life is gone, and when it is over. @param {Weighing} weighing */
function potLine({ cup, system, temperature_c }) {
  const ends_at = potLifeEndsAt(cup, system, temperature_c);
  if (!ends_at) return null;
  const [from, to] = [Date.parse(cup.first_contact_at), Date.parse(ends_at)];
  const values = {
    gone: figure(String(Math.max(0, Math.floor((nowMs() - from) / 60000)))),
    share: `${figure('75')} %`,
    amber: clock(new Date(from + (to - from) * POT_LIFE_WARN_SHARE).toISOString()),
    ends: clock(ends_at),
  };
  return el('p', { class: 'big' }, t('%(gone)s min gone · %(share)s at %(amber)s · ends %(ends)s', values));
}
