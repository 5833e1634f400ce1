/** What a person can be told to do. */

/** @typedef {import('../../types.js').ActionWord} ActionWord */
/** @typedef {import('../../types.js').Advice} Advice */

/** What a person does next. */
export const Action = Object.freeze({
  OTHER_SCALE: /** @type {const} */ ('other_scale'),
  READ_CUP: /** @type {const} */ ('read_cup'),
  POUR: /** @type {const} */ ('pour'),
  OPEN_HARDENER: /** @type {const} */ ('open_hardener'),
  CORRECT: /** @type {const} */ ('correct'),
  SCRAP: /** @type {const} */ ('scrap'),
  MIX: /** @type {const} */ ('mix'),
  FINISH_MIXING: /** @type {const} */ ('finish_mixing'),
  DIVIDE: /** @type {const} */ ('divide'),
  USE: /** @type {const} */ ('use'),
  WATCH: /** @type {const} */ ('watch'),
  NONE: /** @type {const} */ ('none'),
});

/**
 * One instruction; what is not given does not apply.
 * @param {ActionWord} action
 * @param {Partial<Advice>} [part]
 * @returns {Advice}
 */
export function advice(action, part = {}) {
  return {
    action,
    component: '',
    add_g: null,
    display_stop_g: null,
    display_limit_g: null,
    window: null,
    total_g: null,
    smallest_cup_g: null,
    reason: '',
    cautions: [],
    ...part,
  };
}
