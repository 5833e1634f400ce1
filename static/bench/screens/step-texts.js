/** What to do at a step of the lay-up sheet, and what to beware of at that moment. */
import { shop } from '../cups.js';
import { figure, t } from '../words.js';

/** @typedef {import('../types.js').Step} Step */
/** @typedef {import('../types.js').StepState} StepState */

/**
 * @param {Step} step
 * @returns {string}
 */
export function taskWords(step) {
  const system = materialWords(step.system);
  /** @type {Record<string, () => string>} */
  const words = {
    mould: () => t('Clean the mould and look at it: no dust, no old resin, no damage. The wipe stays clean.'),
    release: () => t('Put on coat %(number)s of %(agent)s, thin and even, corners too.', { number: figure(String(step.number)), agent: step.release_agent }),
    surface_coat: () => t('Spread %(system)s to a closed, even film. Look for fisheyes.', { system }),
    tack: () => t('Touch the coat with a gloved finger where it will be trimmed off.'),
    ply: () => t('Lay %(cloth)s at %(angle)s° with %(system)s. No white spots, no pools, corners not bridged.', { cloth: step.cloth, angle: figure(String(step.angle_deg)), system }),
    peel_ply: () => t('Lay the peel ply without wrinkles, edges down, and wet it out.'),
    trim: () => t('Trim the edge while the laminate still cuts like leather.'),
    cure: () => t('Leave the part alone. Keep the sample cup and all leftovers in view.'),
    demould: () => t('Press a nail into the sample cup: it leaves no dent when it is hard.'),
  };
  const known = words[step.kind];
  return known ? known() : t('“%(step)s” is newer than this app: ask the office what to do.', { step: step.name });
}

/**
 * @param {Step} step
 * @returns {string}
 */
export function cautionWords(step) {
  const resin = t('Gloves, eyes covered, ventilate: see the safety data sheet. The data sheet decides on every time here.');
  /** @type {Record<string, string>} */
  const words = {
    mould: t('Solvents: ventilate, gloves, no flame. See the safety data sheet.'),
    release: t('Ventilate, gloves, no flame. The data sheet decides on coats and times.'),
    surface_coat: resin,
    tack: t('The finger decides, not the clock. Clean gloves; no bare skin on the coat.'),
    ply: t('Pour the cup out flat and soon: a full cup gets hot. Gloves, eyes covered: see the safety data sheet.'),
    peel_ply: resin,
    trim: t('A sharp knife, away from the hand. Fibres prick, and carbon conducts: none into scale, phone or plugs.'),
    cure: t('Leftovers set in a shallow open tray, in view, in no bin. Warm the part only as the data sheet says; no flame.'),
    demould: t('Cut and sand only after full cure: wet or with extraction, mask as the safety data sheet says. Carbon dust conducts.'),
  };
  return words[step.kind] ?? resin;
}

/** What a surface past its window needs. */
export function preparationWords() {
  return [
    t('The layer below has set: the next one does not bond by itself any more.'),
    t('Wash with water first, then abrade until it is dull all over, then wipe clean and let it dry.'),
  ];
}

export function preparationCaution() {
  return t('Sand wet or with extraction, mask as the safety data sheet says: dust of half-cured resin can make skin and lungs react. The data sheet decides on grit and cleaner.');
}

/**
 * Why a step has no clock, or what its clock means; empty where nothing is to be said.
 * @param {StepState} state
 */
export function reasonWords({ reason, step }) {
  /** @type {Record<string, string>} */
  const words = {
    not_on_card: t('Not on the card: see the data sheet.'),
    not_yet: t('Tested: not yet. Wait, then test again.'),
    too_late: t('Tested: too late. The next ply needs a prepared surface.'),
    window_past: t('The window has closed. The next ply needs a prepared surface.'),
    too_old: t('The release film is older than its sheet allows: coat again, or prove it with a tape test.'),
    before_clock: t('The finger test allows it, the clock does not yet.'),
    not_prepared: t('Begun after the window had closed, and no preparation is recorded.'),
    no_window: t('At the temperatures measured the window closes before it opens. The finger decides until then; afterwards prepare the surface.'),
    done_late: t('“Done” came more than an hour after the start: the window of the next layer counts from that hour on.'),
    clock_unsure: t('The layer below was ended by a clock that is ahead of this one. Compare the clocks of the phones, take that “Done” back and write it again.'),
    not_wet: t('The resin below has set: leave the peel ply out, or go on with a written reason.'),
    clock: step.kind === 'tack' ? t('Too early by the clock; the finger decides.') : '',
  };
  return words[reason] ?? '';
}

/** @param {string} code  of a system */
function materialWords(code) {
  const card = shop()?.systems.find((one) => one.newest && one.code === code);
  return card ? `${card.resin} + ${card.hardener_word}` : code;
}
