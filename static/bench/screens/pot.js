/** The pot clock in words, and what it takes to go on when it is over. */
import { isSetBack, nowUtc } from '../moment.js';
import { button, el } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { stopShape } from '../parts/stop-shape.js';
import { OVER, potCautions, potLifeEndsAt } from '../trade/cup/pot-clock.js';
import { fixed } from '../trade/numbers.js';
import { clock, figure, t } from '../words.js';
import { warning } from './frame.js';
import { colderWords, potLifeWords } from './warmth-words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */
/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../types.js').Cup} Cup */
/** @typedef {import('../types.js').SystemCard} SystemCard */
/**
 * A mix and the warmest temperature that counts for it.
 * @typedef {{cup: Cup, system: SystemCard, temperature_c: number | null}} Mix
 */

/** @param {Mix} mix */
export function isOver({ cup, system, temperature_c }) {
  return potCautions(cup, system, nowUtc(), temperature_c).includes(OVER);
}

/**
 * Whether what is done next takes a written reason: the pot life is over and none is written yet.
 * @param {Mix} mix
 */
export function isLate(mix) {
  return mix.cup.pot_life_reason === '' && isOver(mix);
}

/** @param {Weighing} weighing */
export function potClock(weighing) {
  const { cup, content, advice, system, temperature_c } = weighing;
  // With the hardener that is still to come.
  const total_g = Math.max(content.total_g, advice.total_g ?? 0);
  if (!cup.first_contact_at) return null;
  const since = clock(cup.first_contact_at);
  const ends_at = potLifeEndsAt(cup, system, temperature_c);
  const sheet = system.pot_life;
  if (!ends_at || sheet === null) {
    return warning(t('The pot clock runs since %(since)s. No pot life is on the card: see the data sheet. Feel the cup. Do not leave it standing.', { since }));
  }
  const values = {
    since,
    ends: clock(ends_at),
    mass: figure(String(sheet.test_mass_g)),
    total: figure(fixed(total_g, 0)),
    life: potLifeWords(weighing) || t('%(minutes)s min by the sheet', { minutes: figure(String(sheet.minutes)) }),
  };
  if (isOver(weighing)) return warning(t('The pot clock ran from %(since)s and ended %(ends)s: %(life)s, for %(mass)s g.', values));
  return warning(runningWords(values, Boolean(potLifeWords(weighing)), total_g > sheet.test_mass_g), ...colderWords(weighing), ...setBackWords());
}

function setBackWords() {
  return isSetBack() ? [' ', t('The phone’s clock was set back: the shorter time counts.')] : [];
}

/**
 * @param {Record<string, string>} values
 * @param {boolean} isShortened  by warmth
 * @param {boolean} isLarger  than the mass the sheet speaks of
 */
function runningWords(values, isShortened, isLarger) {
  if (isShortened) {
    return isLarger
      ? t('The pot clock runs since %(since)s, until %(ends)s: %(life)s, for %(mass)s g; this cup is %(total)s g: expect less. Feel the cup. Do not leave it standing.', values)
      : t('The pot clock runs since %(since)s, until %(ends)s: %(life)s, for %(mass)s g. Feel the cup. Do not leave it standing.', values);
  }
  return isLarger
    ? t('The pot clock runs since %(since)s. The sheet says %(ends)s for %(mass)s g; this cup is %(total)s g: expect less. Feel the cup. Do not leave it standing.', values)
    : t('The pot clock runs since %(since)s. The sheet says %(ends)s for %(mass)s g. Feel the cup. Do not leave it standing.', values);
}

/**
 * What stands above everything else when the time is nearly over, or over.
 * @param {Weighing} weighing
 */
export function potWarning({ advice, cup }) {
  if (advice.cautions.includes('pot_life_amber')) return warning(t('%(share)s of the pot life is gone.', { share: `${figure('75')} %` }));
  if (!advice.cautions.includes(OVER)) return null;
  return el(
    'section',
    { class: 'correction pot-over', role: 'alert' },
    el('div', { class: 'stop-head' }, stopShape(), el('h2', {}, t('Past its pot life: do not lay up'))),
    el('p', {}, t('Feel the cup. Let it set in a shallow open tray, in view; do not carry it once it is warm. See the data sheet.')),
    cup.pot_life_reason ? el('p', { class: 'deviation' }, t('Goes on for a written reason: %(reason)s', { reason: cup.pot_life_reason })) : null,
  );
}

/**
 * The first thing to do with a cup whose time is over; null where it is not.
 * @param {Weighing} weighing
 */
export function scrapFirst(weighing) {
  return isLate(weighing) ? el('a', { class: 'action', href: `#/scrap/${weighing.known.code}` }, t('Scrap this cup')) : null;
}

/**
 * A button that goes on with the mix; past its pot life with a written reason only.
 * @param {Weighing} weighing
 * @param {string} text
 * @param {Draft} draft
 * @param {string} [name]  class of the key
 */
export function goOn(weighing, text, draft, name = isLate(weighing) ? 'second' : 'action') {
  return button(name, text, async () => {
    // The clock is asked when the button is pressed: it went on while the screen lay there.
    const rows = await withReason(weighing, draft, []);
    if (rows.length) await weighing.keep(rows);
  });
}

/**
 * A row, and the reason where something speaks against it.
 * @param {Mix} mix
 * @param {Draft} draft
 * @param {string[]} against  what speaks against it besides the clock; the row then keeps the reason
 * @returns {Promise<Draft[]>} none where the person did not go on
 */
export async function withReason(mix, draft, against) {
  const late = isLate(mix);
  if (!late && against.length === 0) return [draft];
  const { cup, system, temperature_c } = mix;
  const ended = t('The pot life ended %(time)s. What is laid up now may not wet or bond. The data sheet decides.', { time: clock(potLifeEndsAt(cup, system, temperature_c) || cup.first_contact_at) });
  const { value, reason } = await ask({
    kind: 'stop',
    shape: stopShape(),
    title: late ? t('Past its pot life') : t('This step is not open'),
    lines: [...(late ? [ended] : []), ...against, t('The reason is recorded with your name.')],
    reason: t('Reason'),
    answers: [
      { text: t('No'), value: false },
      { text: t('Go on for this reason'), value: true, main: true },
    ],
  });
  if (!value) return [];
  const row = against.length ? { ...draft, note: reason } : draft;
  return late ? [{ kind: 'deviation', note: reason, refers_to: cup.last_reading_id, shown: OVER }, row] : [row];
}
