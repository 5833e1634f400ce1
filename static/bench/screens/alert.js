/** The one thing on Next cups that needs a person: in words, with what to do. */
import { alertOf } from '../alerts.js';
import { certificateLife } from '../certificate.js';
import { shop } from '../cups.js';
import { facts, keepFacts, unsent } from '../log/bench-log.js';
import { button, el } from '../parts/el.js';
import { placeHere } from '../place.js';
import { day, t, tn } from '../words.js';
import { today } from './cans.js';
import { warning } from './frame.js';

/**
 * @param {() => void} again  draws the screen anew
 * @returns {Promise<{alert: HTMLElement | null, unsent: number}>} with the count of unsent rows,
 *   since it was counted here
 */
export async function alertNow(again) {
  const kept = await facts('access', 'last_turn', 'guard_dismissed', 'token', 'server');
  const { rows, total } = await unsent(1);
  const place = await placeHere();
  const until = shop()?.certificate_until;
  const name = alertOf({
    access: kept.access ?? '',
    problem: kept.last_turn?.problem ?? '',
    certificate_ended: certificateLife(until, Date.now()).ended,
    unsent: total,
    oldest_at: rows[0]?.recorded_at ?? '',
    dismissed_on: kept.guard_dismissed ?? '',
    today: today(),
    now_ms: Date.now(),
    looking: place.ruling === 'look',
    never_paired: place.installed && !place.loopback && !kept.token && !kept.server,
  });
  if (!name) return { alert: null, unsent: total };
  const since = rows[0]?.recorded_at ? day(rows[0].recorded_at) : '';
  const words = alertWords(name, { ended: until ? day(until) : '', since, total, paired: Boolean(kept.token) });
  return { alert: el('div', { class: `alert alert-${name}` }, warning(words), acts(name, again)), unsent: total };
}

/**
 * @param {string} name
 * @param {{ended: string, since: string, total: number, paired: boolean}} about
 */
function alertWords(name, { ended, since, total, paired }) {
  /** @type {Record<string, string>} */
  const words = {
    revoked: t('The office has cut this phone off. Rows stay on this phone: share the log, or pair again.'),
    other_log: t('The pairing of this phone belongs to another log. Rows stay on this phone: pair again.'),
    not_paired: paired
      ? t('The shop does not know this phone any more. Rows stay on this phone: pair again.')
      : t('This phone is not paired with the shop. Rows stay on this phone until it is.'),
    certificate_ended: t("The certificate of the shop's server ended on %(date)s. Weighing goes on; rows are sent when the office has renewed it.", { date: ended }),
    unsent: [
      tn('%(num)s row is on this phone only.', '%(num)s rows are on this phone only.', total),
      t('The oldest is of %(date)s. Send them, or share the log.', { date: since }),
    ].join(' '),
    looking: t('Here you can only look. To weigh, install the app.'),
    never_paired: t('This phone is not paired with the shop yet.'),
  };
  return words[name] ?? '';
}

/**
 * @param {string} name
 * @param {() => void} again
 */
function acts(name, again) {
  const pair = el('a', { class: 'second', href: '#/pair' }, t('Pair with the shop'));
  const log = el('a', { class: 'second', href: '#/phone' }, t('Send or share'));
  const later = button('quiet', t('Not today'), async () => {
    await keepFacts({ guard_dismissed: today() });
    again();
  });
  /** @type {Record<string, HTMLElement[]>} */
  const all = {
    revoked: [log, pair],
    other_log: [pair],
    not_paired: [pair],
    unsent: [log, later],
    looking: [el('a', { class: 'second', href: '#/install' }, t('Install the app'))],
    never_paired: [pair],
  };
  return el('div', { class: 'alert-acts' }, ...(all[name] ?? []));
}
