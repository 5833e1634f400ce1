/** Pair this phone with the shop: scan the code the office shows, or type its 26 characters. */
import { facts } from '../log/bench-log.js';
import { typedPairing } from '../pairing-code.js';
import { pair } from '../pairing.js';
import { button, el } from '../parts/el.js';
import { askToPersist } from '../place.js';
import { appVersion } from '../record.js';
import { sync } from '../sync.js';
import { figure, t, tn } from '../words.js';
import { draw, goInstead, plainHeader, stayingHere } from './frame.js';
import { sayLostLog } from './lost-log.js';
import { turnWords } from './turn-words.js';

/** A code on its way here from the scanner; no address of the app ever carries one. */
let scanned = { code: '', sure: false };

/**
 * Go on to pairing with a code that was scanned.
 * @param {string} code
 * @param {boolean} sure  it was scanned to pair; else a person confirms it first
 */
export function pairWith(code, sure) {
  scanned = { code, sure };
  goInstead('pair');
}

export async function pairScreen() {
  const stillHere = stayingHere();
  const { code, sure } = scanned;
  scanned = { code: '', sure: false };
  const { token, phone_name: name } = await facts('token', 'phone_name');
  if (!stillHere()) return;
  const problem = el('p', { class: 'problem', role: 'alert' });
  const field = el('input', {
    id: 'pairing-code', class: 'pairing-code', type: 'text', value: code, dir: 'ltr',
    autocomplete: 'off', autocapitalize: 'characters', spellcheck: 'false', enterkeyhint: 'go',
  });
  const send = button(code ? 'action' : 'second', t('Pair'), () => take(field.value, problem));
  field.addEventListener('keydown', (event) => {
    if (event.key === 'Enter') send.click();
  });
  field.addEventListener('input', () => problem.replaceChildren());
  draw(
    'pair',
    plainHeader(t('Pair with the shop'), 'phone'),
    token ? el('p', {}, t('Paired as %(name)s. Pairing again goes on with the same log.', { name })) : null,
    el('p', { class: 'instruction' }, code
      ? t('This is a pairing code of the office. Pair this phone with it?')
      : t('In the office, open Phones and make a pairing code. It is good for five minutes.')),
    problem,
    el('a', { class: code ? 'second' : 'action', href: '#/scan/pair' }, code ? t('Scan another') : t('Scan the pairing code')),
    el('label', { for: 'pairing-code' }, t('Pairing code, 26 characters')),
    field,
    send,
  );
  if (code && sure) send.click();
}

/**
 * @param {string} typed
 * @param {HTMLElement} problem
 */
async function take(typed, problem) {
  const stillHere = stayingHere();
  const read = typedPairing(typed);
  problem.textContent = typedWords(read);
  if (!read.code) return;
  problem.textContent = '';
  const { name, ...outcome } = await pair(read.code, appVersion);
  if (!outcome.problem) await askToPersist();
  if (!stillHere()) return;
  if (outcome.problem) problem.textContent = refusedWords(outcome);
  else await pairedScreen(name);
}

/** @param {string} name  the office gave this phone */
async function pairedScreen(name) {
  const stillHere = stayingHere();
  const line = el('p', { role: 'status' }, t('The cups of the shop are coming …'));
  draw(
    'paired',
    plainHeader(t('Pair with the shop'), 'phone'),
    el('p', { class: 'big' }, t('Paired as %(name)s', { name })),
    line,
    el('div', { class: 'actions' }, el('a', { class: 'action', href: '#/' }, t('Next cups'))),
  );
  const told = sayLostLog();
  const problem = await sync(appVersion, true);
  if (stillHere()) line.textContent = problem ? t('Last try: %(outcome)s', { outcome: turnWords(problem) }) : t('The cups of the shop are here.');
  await told;
}

/** @param {ReturnType<typeof typedPairing>} read */
function typedWords({ problem, length, wrong }) {
  if (problem === 'character') {
    return t('“%(wrong)s” is in no pairing code: it has letters and the digits 2 to 7.', { wrong });
  }
  return problem ? t('A pairing code has 26 characters; these are %(length)s.', { length: figure(String(length)) }) : '';
}

/** @param {{problem: string, wait_s: number}} outcome */
function refusedWords({ problem, wait_s }) {
  /** @type {Record<string, string>} */
  const words = {
    pairing_refused: t('The shop refused this code: it is used, too old or wrong. Make a new one in the office.'),
    too_often: tn('Too many tries. Wait %(num)s second, then try again.', 'Too many tries. Wait %(num)s seconds, then try again.', wait_s || 60),
    other_server: t('This is the server of another shop. The log of this phone belongs to the shop it knows; nothing was changed.'),
    not_reached: t('The shop was not reached. Is this phone in the network of the shop? If the code is refused afterwards, make a new one.'),
    records_not_writable: t('The shop cannot write its records now. Tell the office.'),
  };
  return words[problem] ?? t('Something else answered. This phone was not paired.');
}
