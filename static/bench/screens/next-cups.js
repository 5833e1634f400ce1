/** Next cups: what is open, what is planned, and starting one without a plan. */
import { partOf, plannedCups, shop, startedCups } from '../cups.js';
import { unsent } from '../log/bench-log.js';
import { el } from '../parts/el.js';
import { verdictWord } from '../parts/verdict.js';
import { ENDINGS } from '../trade/cup/fold.js';
import { clock, figure, t, tn } from '../words.js';
import { draw, stayingHere } from './frame.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */

const DONE_SHOWN = 5;

export async function nextCupsScreen() {
  const stillHere = stayingHere();
  const started = startedCups();
  const open = started.filter((known) => !hasEnded(known));
  const done = started.filter(hasEnded).slice(0, DONE_SHOWN);
  const { total } = await unsent(1);
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
    section(t('Open'), open.map(startedCard), 'weigh'),
    section(t('Planned'), plannedCups().map(plannedCard), 'weigh'),
    open.length + plannedCups().length === 0 && emptyWords(),
    section(t('Done lately'), done.map(startedCard), 'story'),
    el('a', { class: 'action', href: '#/start' }, t('Start a cup without a plan')),
  );
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
 * @param {{code: string, lines: (Node | string)[]}[]} cards
 * @param {string} target
 */
function section(title, cards, target) {
  if (cards.length === 0) return null;
  return el(
    'section',
    {},
    el('h2', {}, title),
    el(
      'ul',
      { class: 'cards' },
      ...cards.map(({ code, lines }) =>
        el(
          'li',
          {},
          el(
            'a',
            { class: 'card', href: `#/${target}/${code}` },
            el('span', { class: 'code' }, code),
            el('span', { class: 'card-lines' }, ...lines),
          ),
        ),
      ),
    ),
  );
}

/** @param {KnownCup} known */
function plannedCard(known) {
  const plan = /** @type {import('../shapes.js').PlannedCup} */ (known.plan);
  const system = known.system ? `${known.system.resin} + ${known.system.hardener_word}` : plan.system;
  return {
    code: known.code,
    lines: [
      el('strong', {}, [plan.job && partOf(plan.job), plan.step].filter(Boolean).join(' · ') || t('No job')),
      el('span', {}, `${figure(plan.total)} g · ${system}`),
    ],
  };
}

/** @param {KnownCup} known */
function startedCard(known) {
  const { cup } = known;
  const start = known.rows[0];
  const name = [start.job && partOf(start.job), start.step].filter(Boolean).join(' · ') || t('No job');
  const state = cup ? stateWords(cup) : t('card not known here');
  return {
    code: known.code,
    lines: [el('strong', {}, name), el('span', { class: 'state' }, state)],
  };
}

/** @param {import('../types.js').Cup} cup */
function stateWords(cup) {
  const word = verdictWord(cup);
  const states = {
    started: t('started'),
    empty_read: t('empty cup read'),
    a_waiting: t('A weighed, waiting'),
    b_open: t('hardener open since %(time)s', { time: cup.first_contact_at && clock(cup.first_contact_at) }),
    judged: word,
    mixing: t('mixing · %(verdict)s', { verdict: word }),
    mixed: t('mixed · %(verdict)s', { verdict: word }),
    in_use: t('in use · %(verdict)s', { verdict: word }),
    closed: t('closed · %(verdict)s', { verdict: word || t('no verdict') }),
  };
  return states[cup.state];
}
