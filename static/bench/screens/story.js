/** Cup story: every reading with what was asked and shown; nothing hidden, struck rows struck. */
import { cupLabelled, cupTypeNamed, hasTwin, mixOf } from '../cups.js';
import { isHeld, facts } from '../log/bench-log.js';
import { cupSection } from '../parts/cup-section.js';
import { button, el } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { verdictBlock } from '../parts/verdict.js';
import { placeHere } from '../place.js';
import { stepWords } from '../step-words.js';
import { voidedOf } from '../trade/rows.js';
import { dateAndTime, figure, t } from '../words.js';
import { cupHeader, draw, plainHeader, stayingHere, twinWords } from './frame.js';
import { keep } from './keep.js';
import { sharesOf } from './divide.js';
import { kindWords, shownWords } from './row-words.js';
import { strikable } from './strike.js';
import { unidentifiedOf } from './unidentified.js';

/** @typedef {import('../types.js').Row} Row */
/** @typedef {import('../shapes.js').KnownCup} KnownCup */

/** @param {string} code */
export async function storyScreen(code) {
  const known = cupLabelled(code);
  if (!known) return draw('story', plainHeader(code), el('p', {}, t('Cup %(code)s is not known here.', { code })));
  const { cup } = known;
  const stillHere = stayingHere();
  const { log_id: own, holdings } = await facts('log_id', 'holdings');
  const { ruling } = await placeHere();
  if (!stillHere()) return;
  const voided = voidedOf(known.rows);
  const reasons = new Map(known.rows.filter((row) => row.kind === 'voided').map((row) => [row.refers_to, row.note]));
  const content = mixOf(known)?.cup ?? cup;
  const replaced = new Set(known.rows.filter((row) => row.kind === 'weighed').map((row) => row.refers_to));
  const volume = cupTypeNamed(known.plan?.cup_type ?? '')?.volume_ml;
  draw(
    'story',
    plainHeader(t('Cup story')),
    cupHeader(known, 3),
    cup && (cup.verdict || cup.unknown) ? verdictBlock(cup) : null,
    content ? el('figure', { class: 'story-cup' }, cupSection(content.pours, volume ?? (content.total_g * 1.4 || 1))) : null,
    kin(known),
    ...(cup?.flags ?? []).map((flag) => el('p', { class: 'flag' }, flagWords(flag))),
    hasTwin(known) ? el('p', { class: 'flag' }, twinWords()) : null,
    known.rows.length === 0 ? el('p', {}, t('Planned, not started.')) : null,
    el(
      'ol',
      { class: 'rows' },
      ...known.rows.map((row) =>
        rowItem(row, {
          struck: voided.has(row.event_id) || replaced.has(row.event_id),
          reason: reasons.get(row.event_id) ?? '',
          sent: row.log_id !== own || isHeld(row.seq, holdings),
        }),
      ),
    ),
    el(
      'div',
      { class: 'actions' },
      isOpen(known) ? el('a', { class: 'action', href: `#/weigh/${code}` }, t('Go on')) : null,
      // Where nothing may be weighed no row is written at all.
      ruling === 'weigh' ? changes(known) : null,
    ),
  );
}

/** @param {KnownCup} known */
function isOpen(known) {
  const state = known.cup?.state ?? unidentifiedOf(known)?.state ?? 'closed';
  return known.rows.length > 0 && state !== 'closed';
}

/** Where its mix came from, or went. @param {KnownCup} known */
function kin(known) {
  const mix = mixOf(known);
  const others = mix ? [mix] : sharesOf(known);
  if (others.length === 0) return null;
  const links = others.map(({ code }) => el('a', { class: 'quiet', href: `#/story/${code}` }, mix ? t('Its mix: %(code)s', { code }) : t('Its share: %(code)s', { code })));
  return el('div', { class: 'quiet-row' }, ...links);
}

/** @param {KnownCup} known */
function changes(known) {
  const open = known.cup && known.cup.state !== 'closed';
  return el(
    'div',
    { class: 'quiet-row' },
    strikable(known).length ? el('a', { class: 'quiet', href: `#/strike/${known.code}` }, t('Undo')) : null,
    open ? el('a', { class: 'quiet', href: `#/scan/label/${known.code}` }, t('Put on another label')) : null,
    button('quiet', t('Add a note'), () => addNote(known)),
  );
}

/** @param {KnownCup} known */
async function addNote(known) {
  const { value, reason } = await ask({
    title: t('Note for cup %(code)s', { code: known.code }),
    reason: t('Note'),
    answers: [
      { text: t('No'), value: false },
      { text: t('Keep it'), value: true, main: true },
    ],
  });
  if (!value || known.rows.length === 0) return;
  await keep(known, [{ kind: 'note', note: reason }]);
  await storyScreen(known.code);
}

/**
 * @param {Row} row
 * @param {{struck: boolean, reason: string, sent: boolean}} marks  why it was struck
 */
function rowItem(row, { struck, reason, sent }) {
  const facts = [
    row.kind === 'labelled' && t('%(code)s in place of %(before)s', { code: row.cup, before: row.target }),
    !['labelled', 'aside_settled'].includes(row.kind) && !['cup_started', 'away', 'unidentified'].includes(row.kind) && row.target && t('asked %(target)s', { target: figure(row.target) }),
    row.shown && t('shown: %(verdict)s', { verdict: shownWords(row.shown) }),
    row.lot && t('lot %(lot)s', { lot: row.lot }),
    row.container,
    row.kind === 'poured' && stepWords(row.step),
    row.kind !== 'divided' && row.note,
    row.refers_to && row.kind === 'weighed' && t('read again'),
  ];
  return el(
    'li',
    { class: struck ? 'struck' : '' },
    el('strong', {}, kindWords(row)),
    row.value ? el('span', { class: 'row-value' }, `${figure(row.value)} ${row.unit}`) : null,
    el('span', { class: 'row-facts' }, facts.filter(Boolean).join(' · ')),
    el('small', {}, [dateAndTime(row.recorded_at), row.person, row.scale.split('@')[0], reason ? t('struck: %(reason)s', { reason }) : struck && t('struck or replaced'), !sent && t('unsent')].filter(Boolean).join(' · ')),
  );
}

/** @param {string} flag */
function flagWords(flag) {
  /** @type {Record<string, string>} */
  const words = {
    double_fill: t('Two phones filled this cup without knowing of each other.'),
    hardener_opened_twice: t('Hardener was opened twice for this cup.'),
    other_scale: t('Some readings come from another scale.'),
    start_missing: t('The beginning of this cup has not arrived yet.'),
    verdict_changed: t('The verdict changed after the cup was poured: a deviation.'),
  };
  return words[flag] ?? flag;
}
