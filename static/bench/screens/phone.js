/** This phone: what is still to be sent, language, sound, and the log in a person's hands. */
import { crew, shop } from '../cups.js';
import { facts, keepFacts, unsent } from '../log/bench-log.js';
import { button, el } from '../parts/el.js';
import { appVersion } from '../record.js';
import { sync, wholeLog } from '../sync.js';
import { currentLanguage, dateAndTime, figure, speak, t, tn } from '../words.js';
import { draw, plainHeader, stayingHere, warning } from './frame.js';

export async function phoneScreen() {
  const stillHere = stayingHere();
  const { log_id: logId, holdings, last_turn: turn, codes, sound_off: off } = await facts(
    'log_id', 'holdings', 'last_turn', 'codes', 'sound_off',
  );
  const { total } = await unsent(1);
  const storage = await storageWords();
  if (!stillHere()) return;
  const aside = Object.entries(holdings?.aside ?? {});
  draw(
    'phone',
    plainHeader(t('This phone')),
    el(
      'dl',
      {},
      ...fact(t('Rows still to be sent'), total ? tn('%(num)s row', '%(num)s rows', total) : t('none')),
      ...fact(t('Last answer of the shop'), holdings?.at ? dateAndTime(holdings.at) : t('none yet')),
      ...fact(t('Last try'), turn ? `${dateAndTime(turn.at)} · ${turnWords(turn.problem)}` : t('none yet')),
      ...fact(t('Storage'), storage),
      ...fact(t('Cup codes left'), figure(String(codes?.length ?? 0))),
      ...fact(t('Who and where'), crew() ? `${crew()?.person} · ${crew()?.scale.split('@')[0]}` : t('not said yet')),
      ...fact(t('Log'), logId),
      ...fact(t('Version'), appVersion),
    ),
    aside.length ? warning(tn('The office has to look at %(num)s row of this phone.', 'The office has to look at %(num)s rows of this phone.', aside.length)) : null,
    languageChoice(),
    soundChoice(Boolean(off)),
    el(
      'div',
      { class: 'actions' },
      button('action', t('Send now'), async () => {
        await sync(appVersion, true);
        if (stillHere()) await phoneScreen();
      }),
      button('second', t('Share the log'), shareLog),
      el('a', { class: 'second', href: '#/crew/phone' }, t('Change person or scale')),
      el('a', { class: 'quiet', href: '/rescue' }, t('Rescue page')),
    ),
    shop()?.demo ? warning(t('Demo: everything in this workshop is invented.')) : null,
  );
}

/**
 * @param {string} name
 * @param {string} value
 */
function fact(name, value) {
  return [el('dt', {}, name), el('dd', {}, value)];
}

/** @param {string} problem */
function turnWords(problem) {
  /** @type {Record<string, string>} */
  const words = {
    '': t('all well'),
    not_reached: t('the shop was not reached'),
    unknown_answer: t('something else answered, nothing counts as sent'),
    other_server: t('another server answered, nothing counts as sent'),
    records_not_writable: t('the shop cannot write its records now'),
    not_kept: t('the shop did not keep all rows'),
    failed: t('it failed on this phone'),
  };
  return words[problem] ?? problem;
}

async function storageWords() {
  const persisted = (await navigator.storage?.persisted?.()) ?? false;
  return persisted ? t('kept for good') : t('the browser may clear it; send or share the log often');
}

function languageChoice() {
  const names = JSON.parse(document.getElementById('languages')?.textContent ?? '{}');
  const select = el(
    'select',
    { id: 'language' },
    ...Object.entries(names).map(([code, name]) =>
      el('option', { value: code, selected: code === currentLanguage() }, String(name)),
    ),
  );
  select.addEventListener('change', async () => {
    await speak(select.value);
    await keepFacts({ language: select.value });
    await phoneScreen();
  });
  return el('p', { class: 'setting' }, el('label', { for: 'language' }, t('Language')), select);
}

/** @param {boolean} off */
function soundChoice(off) {
  const box = el('input', { type: 'checkbox', id: 'sound', checked: !off });
  box.addEventListener('change', () => void keepFacts({ sound_off: !box.checked }));
  return el('p', { class: 'setting' }, el('label', { for: 'sound' }, t('Sound at a stop')), box);
}

/** Hand the log to a person: through the phone's own share sheet, else as a download. */
async function shareLog() {
  const { log_id: logId } = await facts('log_id');
  const name = `companion-log-${logId.slice(0, 8)}.csv`;
  const file = new File([await wholeLog()], name, { type: 'text/csv' });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return;
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
  }
  const address = URL.createObjectURL(file);
  const link = el('a', { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}
