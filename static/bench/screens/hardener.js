/** A is weighed: the hardener is opened by an act of its own, on the can in the hand. */
import { shop } from '../cups.js';
import { takeInHand } from '../hand.js';
import { button, el } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { stopShape } from '../parts/stop-shape.js';
import { figure, t } from '../words.js';
import { autoOffNote } from './auto-off.js';
import { canList, checkedCan } from './cans.js';
import { canRows } from './drafts.js';
import { cupHeader, draw, warning } from './frame.js';
import { addedWords, hardenerWords } from './paste.js';
import { display, scaleNotes } from './target-words.js';
import { coverKey, waitingNotes } from './waiting.js';
import { hardenerNotes } from './warmth-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../types.js').Container} Container */

/**
 * A is weighed: open the hardener by tapping the can in the hand.
 * @param {Weighing} weighing
 */
export function hardenerStep(weighing) {
  const { known, system, advice, cup } = weighing;
  const word = el('mark', { class: 'mark-hardener' }, t('hardener %(word)s', { word: system.hardener_word }));
  const hardeners = new Set((shop()?.systems ?? []).map((card) => card.hardener));
  const cans = (shop()?.containers ?? []).filter((can) => hardeners.has(can.material));
  draw(
    'weigh cans',
    cupHeader(known, 2),
    el('h1', { class: 'instruction' }, t('Take'), ' ', word),
    el('p', { class: 'under-figure' }, el('strong', {}, t('then to %(stop)s g', { stop: figure(display(advice.display_stop_g ?? 0, weighing)) })), el('span', {}, [t('A %(mass)s g', { mass: figure(cup.part_a_g.toFixed(1)) }), ...addedWords(weighing)].join(' ')), ...hardenerWords(weighing).map((text) => el('span', {}, text))),
    el('a', { class: 'second', href: `#/scan/b/${known.code}` }, t('Scan the can in your hand')),
    el('h2', {}, t('or tap it')),
    canList(weighing, cans, 'b', (can) => openHardener(weighing, can)),
    warning(t('Hardener is corrosive: eyes covered, do not lean over the cup. The pot clock starts when you scan or tap the can.')),
    ...scaleNotes(weighing),
    ...hardenerNotes(weighing),
    ...waitingNotes(weighing),
    el(
      'div',
      { class: 'quiet-row' },
      button('quiet', cup.last_reading_component === 'a' ? t('Read A again') : t('Read again'), () => weighing.again('again')),
      coverKey(weighing),
      button('quiet', t('This can is not on record'), () => openUnrecorded(weighing)),
      el('a', { class: 'quiet', href: `#/restarted/${known.code}` }, t('Scale went off')),
      el('a', { class: 'quiet', href: `#/scrap/${known.code}` }, t('Scrap')),
    ),
    autoOffNote(weighing),
  );
}

/**
 * Hardener into the cup: a cup that has been opened, or holds B, refuses another first pour.
 * @param {Weighing} weighing
 * @param {Container} can
 * @returns {Promise<boolean>} whether the pour was opened
 */
export async function openHardener(weighing, can) {
  const chosen = await checkedCan(weighing, 'b', can);
  if (!chosen) return false;
  await takeInHand('');
  await weighing.keep([...canRows(chosen), { kind: 'pour_opened', component: 'b' }]);
  return true;
}

/**
 * A can nobody has entered: it may be the right one, so a reason is written and the lot stays open.
 * @param {Weighing} weighing
 */
async function openUnrecorded(weighing) {
  const { system } = weighing;
  const wanted = `${system.hardener} (${system.hardener_word})`;
  const { value, reason } = await ask({
    kind: 'stop',
    title: t('Stop'),
    shape: stopShape(),
    lines: [t('Read the can. This cup needs %(wanted)s. The lot will be missing from its story.', { wanted })],
    reason: t('Lot as printed on the can, and the reason'),
    answers: [
      { text: t('Take another can'), value: false },
      { text: t('Use it for this reason'), value: true, main: true },
    ],
  });
  if (!value) return;
  const can = { component: 'b', container: '', lot: '', reason, note: 'can not on record' };
  await weighing.keep([...canRows(can), { kind: 'pour_opened', component: 'b' }]);
}
