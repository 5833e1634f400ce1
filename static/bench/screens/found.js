/** Where a code of the shop leads: a cup's next step or story, a can, a part, or a blank label. */
import { canLabelled, cupLabelled, cupsOf, partLabelled, partOf, plannedCups, shop, startedCups } from '../cups.js';
import { takeInHand } from '../hand.js';
import { button, el } from '../parts/el.js';
import { isLabel } from '../trade/codes.js';
import { t } from '../words.js';
import { bind } from './bind.js';
import { lotOf, materialName, takeFrom, today } from './cans.js';
import { cupCard } from './cup-card.js';
import { draw, goInstead, plainHeader, warning } from './frame.js';
import { heldAgainst } from './held.js';
import { noCodeStep } from './stops.js';

/** @typedef {import('../shapes.js').KnownCup} KnownCup */
/** @typedef {import('../types.js').Container} Container */

/**
 * @param {string} code
 * @param {string} place  what its label says it stands on; may be empty
 */
export async function foundScreen(code, place) {
  if (!isLabel(code)) return noCodeStep(code);
  const known = cupLabelled(code);
  if (known && (await heldAgainst(known))) return;
  if (known) return goInstead(known.cup?.state === 'closed' ? `story/${code}` : `weigh/${code}`);
  const can = canLabelled(code);
  if (can) return canScreen(can);
  const part = partLabelled(code);
  if (part) return partScreen(part);
  if (place === 'container' || place === 'part') return notHereScreen(code);
  return blankScreen(code);
}

/** @param {Container} can */
async function canScreen(can) {
  if ((shop()?.systems ?? []).some((system) => system.hardener === can.material)) await takeInHand(can.code);
  const lot = lotOf(can);
  const systems = shop()?.systems ?? [];
  const waiting = startedCups().filter(
    ({ cup, system }) => cup?.state === 'a_waiting' && system?.hardener === can.material,
  );
  draw(
    'found',
    plainHeader(t('Can')),
    el('p', {}, el('span', { class: 'code' }, can.code)),
    el('h2', {}, materialName(can.material)),
    el('p', {}, t('lot %(lot)s', { lot: can.lot })),
    lot?.expires_on ? el('p', {}, t('expires %(date)s', { date: lot.expires_on })) : null,
    lot?.quarantined ? warning(t('Lot %(lot)s is in quarantine.', { lot: can.lot })) : null,
    lot?.expires_on && lot.expires_on < today() ? warning(t('Lot %(lot)s expired on %(date)s.', { lot: can.lot, date: lot.expires_on })) : null,
    list(t('Cups that wait for this hardener'), waiting, 'weigh'),
    list(t('Cups with this can in them'), cupsOf((row) => row.kind === 'lot_used' && row.container === can.code), 'story'),
    el(
      'div',
      { class: 'actions' },
      systems.some((system) => system.resin === can.material)
        ? button('action', t('Take part A from this can'), async () => {
            await takeFrom(can);
            goInstead('');
          })
        : null,
      el('a', { class: 'second', href: '#/' }, t('Next cups')),
    ),
  );
}

/** @param {{code: string, job: string, serial: string}} part */
function partScreen(part) {
  draw(
    'found',
    plainHeader(t('Part')),
    el('p', {}, el('span', { class: 'code' }, part.code)),
    el('h2', {}, [partOf(part.job), part.serial].filter(Boolean).join(' · ')),
    list(t('Cups poured for this job'), cupsOf((row) => row.kind === 'poured' && jobCode(row.job) === jobCode(part.job)), 'story'),
    el('div', { class: 'actions' }, el('a', { class: 'second', href: '#/' }, t('Next cups'))),
  );
}

/**
 * A job stays the same job in its next revision.
 * @param {string} job
 */
function jobCode(job) {
  return job.split('@')[0];
}

/** @param {string} code */
function notHereScreen(code) {
  draw(
    'found',
    plainHeader(t('Not known here')),
    el('p', {}, el('span', { class: 'code' }, code)),
    el('p', {}, t('This label is not on this phone yet. Connect to the shop once, then scan it again.')),
    el('div', { class: 'actions' }, el('a', { class: 'action', href: '#/phone' }, t('This phone'))),
  );
}

/** @param {string} code */
function blankScreen(code) {
  const blank = shop()?.blank_labels?.includes(code);
  const problem = el('p', { class: 'problem', role: 'alert' });
  const put = async (/** @type {KnownCup} */ known) => {
    problem.textContent = await bind(known, code);
  };
  const open = startedCups().filter(({ cup }) => cup && cup.state !== 'closed');
  draw(
    'found',
    plainHeader(blank ? t('Blank label') : t('Not known here')),
    el('p', {}, el('span', { class: 'code' }, code)),
    blank ? el('p', {}, t('This label was printed ahead; as far as this phone knows, it stands on nothing yet.')) : null,
    warning(t('If a cup with this label was started on another phone, pour nothing into it until its rows have arrived here. Go on only if the label is new and blank.')),
    problem,
    choices(t('Put it on a planned cup'), plannedCups(), put),
    choices(t('Put it on an open cup'), open, put),
    el(
      'div',
      { class: 'actions' },
      el('a', { class: 'second', href: `#/start/${code}` }, t('Start a cup under this label')),
      el('a', { class: 'quiet', href: '#/scan' }, t('Scan another')),
    ),
  );
}

/**
 * @param {string} title
 * @param {KnownCup[]} cups
 * @param {(known: KnownCup) => unknown} choose
 */
function choices(title, cups, choose) {
  if (cups.length === 0) return null;
  const cards = cups.map((known) => {
    const card = button('card', '', () => choose(known));
    card.append(...cupCard(known));
    return el('li', {}, card);
  });
  return el('section', {}, el('h2', {}, title), el('ul', { class: 'cards' }, ...cards));
}

/**
 * @param {string} title
 * @param {KnownCup[]} cups
 * @param {string} target
 */
function list(title, cups, target) {
  if (cups.length === 0) return null;
  const cards = cups.map((known) => el('li', {}, el('a', { class: 'card', href: `#/${target}/${known.code}` }, ...cupCard(known))));
  return el('section', {}, el('h2', {}, title), el('ul', { class: 'cards' }, ...cards));
}
