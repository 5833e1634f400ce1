/** How large a cup may become, and how long it may be corrected. */
import { largestMixG, potLifeMin } from '../clocks.js';
import {
  CORRECTION_AFTER_MIXING_S,
  CORRECTION_POT_LIFE_SHARE,
  MAX_CORRECTIONS,
} from '../constants.js';
import { secondsBetween } from '../times.js';
import { unfinishedPart } from './pours.js';
import { CupState } from './progress.js';

/** @typedef {import('../../types.js').CorrectionEnd} CorrectionEnd */
/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').SystemCard} SystemCard */

/**
 * Largest mix this cup may hold, grams: the system's largest in this shop or the cup's volume.
 *
 * Without a density on the card a gram is taken to fill a millilitre, which is on the safe side
 * for every epoxy (1.0 g/cm3 and more; common practice, no source).
 * @param {SystemCard} system
 * @param {number | null} cupVolumeMl
 * @param {number | null} [temperatureC]
 * @returns {number}
 */
export function largestG(system, cupVolumeMl, temperatureC = null) {
  const largestMix = largestMixG(system, temperatureC);
  if (cupVolumeMl === null) return largestMix;
  return Math.min(largestMix, cupVolumeMl * (system.mixed_density_g_cm3 || 1.0));
}

/**
 * Why no correction may be offered any more; empty while one may.
 * @param {Cup} cup
 * @param {SystemCard} system
 * @param {string} nowUtc
 * @param {number | null} temperatureC
 * @returns {CorrectionEnd}
 */
export function correctingEnded(cup, system, nowUtc, temperatureC) {
  if (cup.felt_warm) return 'felt_warm';
  // A correction that is still going on was offered before, and is not one more.
  const made = cup.corrections - (unfinishedPart(cup.pours) ? 1 : 0);
  if (made >= MAX_CORRECTIONS) return 'two_corrections';
  if (cup.state === CupState.MIXED || cup.state === CupState.IN_USE) return 'mixed';
  const { mix_started_at: mixStartedAt, first_contact_at: firstContactAt } = cup;
  if (mixStartedAt && secondsBetween(mixStartedAt, nowUtc) > CORRECTION_AFTER_MIXING_S) {
    return 'mixing_too_long';
  }
  const potMin = potLifeMin(system, temperatureC);
  if (potMin === null || !firstContactAt) return '';
  const limitS = potMin * 60 * CORRECTION_POT_LIFE_SHARE;
  return secondsBetween(firstContactAt, nowUtc) > limitS ? 'pot_life_third' : '';
}
