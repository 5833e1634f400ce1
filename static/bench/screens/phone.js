/** This phone: what is still to be sent, language, sound, and the log in a person's hands. */
import { certificateLife } from '../certificate.js';
import { crew, shop } from '../cups.js';
import { facts, unsent } from '../log/bench-log.js';
import { offerFile } from '../offer-file.js';
import { button, el } from '../parts/el.js';
import { placeHere } from '../place.js';
import { appVersion } from '../record.js';
import { sync, wholeLog } from '../sync.js';
import { dateAndTime, day, figure, t, tn } from '../words.js';
import { draw, plainHeader, stayingHere, warning } from './frame.js';
import { settings } from './settings.js';
import { turnWords } from './turn-words.js';

export async function phoneScreen() {
  const stillHere = stayingHere();
  const { holdings } = await facts('holdings');
  const choices = await settings(() => void phoneScreen());
  const place = await placeHere();
  const paired = await pairing(place.loopback);
  const lines = await factLines(place, paired);
  if (!stillHere()) return;
  const aside = Object.entries(holdings?.aside ?? {});
  draw(
    'phone',
    plainHeader(t('This phone')),
    el('dl', {}, ...lines),
    place.installed && !place.kept ? warning(t('This phone refused to promise that it keeps the log. Leave some storage free, and send or share the log each day.')) : null,
    certificateWarning(),
    aside.length ? warning(tn('The office has to look at %(num)s row of this phone.', 'The office has to look at %(num)s rows of this phone.', aside.length)) : null,
    el(
      'div',
      { class: 'actions' },
      button('action', t('Send now'), async () => {
        await sync(appVersion, true);
        if (stillHere()) await phoneScreen();
      }),
      button('second', t('Share the log'), shareLog),
      paired.matters ? el('a', { class: 'second', href: '#/pair' }, t('Pair with the shop')) : null,
      el('a', { class: 'second', href: '#/crew/phone' }, t('Change person or scale')),
      place.installed ? null : el('a', { class: 'quiet', href: '#/install' }, t('Install the app')),
      el('a', { class: 'quiet', href: '/rescue' }, t('Rescue page')),
    ),
    el('section', { class: 'settings' }, el('h2', {}, t('Settings')), ...choices),
    shop()?.demo ? warning(t('Demo: everything in this workshop is invented.')) : null,
  );
}

/**
 * Whether pairing is of any matter here, and the name the office gave this phone. A server that
 * only serves its own machine asks for none.
 * @param {boolean} loopback
 */
async function pairing(loopback) {
  const { token, phone_name: name, access } = await facts('token', 'phone_name', 'access');
  return { matters: Boolean(!loopback || token || access), name: token ? name : '' };
}

/**
 * @param {import('../place.js').Place} place
 * @param {{matters: boolean, name: string}} paired
 */
async function factLines(place, paired) {
  const { log_id: logId, holdings, last_turn: turn, codes } = await facts('log_id', 'holdings', 'last_turn', 'codes');
  const { total } = await unsent(1);
  return [
    ...fact(t('Rows still to be sent'), total ? tn('%(num)s row', '%(num)s rows', total) : t('none')),
    ...fact(t('Last answer of the shop'), holdings?.at ? dateAndTime(holdings.at) : t('none yet')),
    ...fact(t('Last try'), turn ? `${dateAndTime(turn.at)} · ${turnWords(turn.problem)}` : t('none yet')),
    ...(paired.matters ? fact(t('Paired as'), paired.name || t('not paired')) : []),
    ...fact(t('Storage'), place.kept ? t('kept for good') : t('the browser may clear it; send or share the log often')),
    ...certificateLine(),
    ...fact(t('Cup codes left'), figure(String(codes?.length ?? 0))),
    ...fact(t('Who and where'), crew() ? `${crew()?.person} · ${crew()?.scale.split('@')[0]}` : t('not said yet')),
    ...fact(t('Log'), logId),
    ...fact(t('Version'), appVersion),
  ];
}

function certificateLine() {
  const until = shop()?.certificate_until;
  return until ? fact(t('Certificate of the shop until'), day(until)) : [];
}

function certificateWarning() {
  const until = shop()?.certificate_until ?? '';
  const { ended, days, within } = certificateLife(until, Date.now());
  if (within === 0) return null;
  if (ended) {
    return warning(t("The certificate of the shop's server ended on %(date)s. Weighing goes on; rows are sent when the office has renewed it.", { date: day(until) }));
  }
  const left = tn("The certificate of the shop's server ends in %(num)s day.", "The certificate of the shop's server ends in %(num)s days.", days);
  const urgent = within === 7 ? t('Tell the office today: afterwards no row can be sent.') : t('It should have renewed itself. Tell the office.');
  return within === 60 ? el('p', {}, left) : warning(`${left} ${urgent}`);
}

/**
 * @param {string} name
 * @param {string} value
 */
function fact(name, value) {
  return [el('dt', {}, name), el('dd', {}, value)];
}

/** Hand the log to a person. */
async function shareLog() {
  const { log_id: logId } = await facts('log_id');
  await offerFile(`companion-log-${logId.slice(0, 8)}.csv`, 'text/csv', await wholeLog());
}
