/** Scales that switch themselves off when their reading stands still. */
import { AUTO_OFF_NAG_SHARE } from './constants.js';

/**
 * Seconds after the last change of its reading at which a scale is to be touched.
 * @param {import('../types.js').ScaleCard} scale
 * @returns {number | null} null for a scale that stays on, or whose card does not say
 */
export function nagAfterS({ auto_off_s: autoOffS }) {
  return autoOffS === null ? null : AUTO_OFF_NAG_SHARE * autoOffS;
}
