/**
 * A label that cannot be read: the letters that are left and the weight of the cup find it again, or
 * nobody can name it. Nothing is chosen for the person, not even where only one cup fits.
 */
import { crew, cupLabelled, partOf, scaleNamed, startedCups } from '../cups.js';
import { takeCodes } from '../log/bench-log.js';
import { button, el } from '../parts/el.js';
import { keypad } from '../parts/keypad.js';
import { stepWords } from '../step-words.js';
import { scaleDecimals, scaleReadabilityG } from '../trade/cards.js';
import { ALPHABET, CODE_LENGTH } from '../trade/codes.js';
import { GONE, candidates } from '../trade/finding.js';
import { fixed } from '../trade/numbers.js';
import { checkReading } from '../trade/reading.js';
import { dateAndTime, figure, t } from '../words.js';
import { stateLine } from './cup-card.js';
import { draw, go, plainHeader, warning } from './frame.js';
import { keep } from './keep.js';
import { readingProblemWords } from './problem-words.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../types.js').Candidate} Candidate */
/** @typedef {import('../types.js').ScaleCard} ScaleCard */
/** What is known of the cup in the hand; `typed` what stood on the display.
 * @typedef {{letters: string, gross_g: number | null, value: string, typed: string}} Found */

export function smearedScreen() {
  if (!crew() || !scaleNamed(crew()?.scale ?? '')) return go('crew/smeared');
  let letters = '';
  const field = el('output', { class: 'code-entry', 'aria-label': t('Letters that are left') });
  const set = (/** @type {string} */ text) => {
    letters = text.slice(0, CODE_LENGTH);
    const shown = Array.from({ length: CODE_LENGTH }, (_, place) => letters[place] ?? '·');
    field.replaceChildren(...shown.map((letter) => el('span', {}, letter)));
  };
  const keys = [...ALPHABET].map((letter) => button('key', letter, () => set(letters + letter)));
  draw(
    'type-code smeared',
    plainHeader(t('Label cannot be read')),
    el('p', { class: 'instruction' }, t('Which letters are left? Place by place; “?” for each that is gone.')),
    field,
    el(
      'div',
      { class: 'code-keys' },
      ...keys,
      button('key', GONE, () => set(letters + GONE), { 'aria-label': t('This letter is gone') }),
      button('key', '⌫', () => set(letters.slice(0, -1)), { 'aria-label': t('Delete the last character') }),
    ),
    el('div', { class: 'actions' }, button('action', t('Now weigh it'), () => weighScreen(letters.padEnd(CODE_LENGTH, GONE)))),
  );
  set('');
}

/** @param {string} letters */
function weighScreen(letters) {
  const scale = /** @type {ScaleCard} */ (scaleNamed(crew()?.scale ?? ''));
  const problem = el('p', { class: 'problem', role: 'alert' });
  draw(
    'smeared',
    plainHeader(t('Label cannot be read'), 'smeared'),
    el('p', {}, el('span', { class: 'code' }, letters)),
    el('h1', { class: 'instruction' }, t('Zeroed scale %(code)s, the cup on it as it is', { code: scale.code })),
    problem,
    keypad({
      label: t('scale shows'),
      onread: (typed) => {
        const check = checkReading(typed, scale, {});
        const empty = !check.problem && !(Number(check.value) > 0);
        problem.textContent = check.problem ? readingProblemWords(check, typed, scale) : empty ? t('More than 0 g is needed.') : '';
        if (!check.problem && !empty) candidatesScreen({ letters, gross_g: Number(check.value), value: check.value, typed }, scale);
      },
    }),
    button('quiet', t('It cannot be weighed'), () => candidatesScreen({ letters, gross_g: null, value: '', typed: '' }, scale)),
  );
}

/** Cups that may stand under a smeared label: those that were begun and have not ended. */
function openCups() {
  return startedCups().filter(({ cup }) => cup !== null && cup.state !== 'closed');
}

/**
 * What a cup weighs in all, as far as its rows say: nothing may have been taken out of it.
 * @param {KnownCup} known
 */
function grossOf({ cup }) {
  if (!cup || cup.cup_g === null || cup.unknown || cup.share_of) return null;
  if (cup.state === 'setting') return cup.leftover_g === null ? null : cup.cup_g + cup.leftover_g;
  return cup.state === 'in_use' ? null : cup.cup_g + cup.total_g;
}

/**
 * @param {Found} found
 * @param {ScaleCard} scale
 */
function candidatesScreen(found, scale) {
  const cups = openCups().map((known) => ({ code: known.code, gross_g: grossOf(known) }));
  const all = candidates(cups, found.letters, found.gross_g, scaleReadabilityG(scale));
  const fitting = all.filter(({ weight }) => weight !== 'off');
  const off = all.filter(({ weight }) => weight === 'off');
  const weighed = found.value ? `${figure(found.value)} g` : t('not weighed');
  draw(
    'smeared',
    plainHeader(t('Which cup is it?'), 'smeared'),
    el('p', {}, el('span', { class: 'code' }, found.letters), ' ', weighed),
    fitting.length
      ? el('p', { class: 'instruction' }, t('Look at the cups: the app does not choose. Tap the one in your hand only if you are sure.'))
      : el('p', { class: 'instruction' }, t('No open cup that this phone knows fits.')),
    list(fitting, found, scale),
    off.length ? el('h2', {}, t('Letters fit, weight does not')) : null,
    list(off, found, scale),
    el(
      'div',
      { class: 'actions' },
      found.value ? button('second', t('None of these: unidentified'), () => unidentified(found)) : warning(t('To record it as unidentified it has to be weighed.')),
    ),
  );
}

/**
 * @param {Candidate[]} fitting
 * @param {Found} found
 * @param {ScaleCard} scale
 */
function list(fitting, found, scale) {
  if (fitting.length === 0) return null;
  return el('ul', { class: 'cards' }, ...fitting.map((one) => el('li', {}, candidateKey(one, found, scale))));
}

/**
 * @param {Candidate} one
 * @param {Found} found
 * @param {ScaleCard} scale
 */
function candidateKey({ code, exact, weight }, found, scale) {
  const known = /** @type {KnownCup} */ (cupLabelled(code));
  const gross_g = grossOf(known);
  const [start] = known.rows;
  const where = [start.job ? partOf(start.job) : t('No job'), stepWords(start.step)].filter(Boolean).join(' · ');
  const mass = gross_g === null ? t('weight not on record') : t('%(mass)s g on record', { mass: figure(fixed(gross_g, scaleDecimals(scale))) });
  const key = button('card', '', () => confirm(known, found));
  key.append(
    el('span', { class: 'code' }, ...[...code].map((letter, place) => (found.letters[place] === letter ? el('b', {}, letter) : letter))),
    el(
      'span',
      { class: 'card-lines' },
      el('strong', {}, where),
      el('span', {}, [dateAndTime(start.recorded_at), start.person].join(' · ')),
      el('span', {}, [mass, weight === 'off' ? t('does not fit') : '', exact ? '' : t('a letter looks alike')].filter(Boolean).join(' · ')),
      el('span', { class: 'state' }, stateLine(known)),
    ),
  );
  return key;
}

/**
 * The person said which cup it is: that is on record, and it gets a label that can be read.
 * @param {KnownCup} known
 * @param {Found} found
 */
async function confirm(known, { letters, value, typed }) {
  const row = { kind: 'note', note: 'found by letters and weight', target: letters, value, unit: value ? 'g' : '', typed };
  if (await keep(known, [row])) go(`scan/label/${known.code}`);
}

/**
 * Nobody can name it: it gets a code of its own and goes into no part.
 * @param {Found} found
 */
async function unidentified({ letters, value, typed }) {
  const [code] = await takeCodes(1);
  if (!code) return draw('stopped', plainHeader(t('Label cannot be read'), 'smeared'), el('p', {}, t('This phone has no cup codes left. Connect to the shop once.')));
  const known = { code, plan: null, rows: [], system: null, scale: scaleNamed(crew()?.scale ?? ''), cup: null };
  const rows = [{ kind: 'cup_started' }, { kind: 'unidentified', value, unit: 'g', typed, target: letters }];
  if (await keep(known, rows)) go(`unidentified/${code}`);
}
