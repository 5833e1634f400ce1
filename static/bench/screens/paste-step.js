/** The step between part A and hardener: the paste, where one is planned. */
import { canFor, cansOf } from './cans.js';
import { pourStep } from './pour.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/**
 * Pour the paste, from a can on record where there is one.
 * @param {Weighing} weighing
 */
export async function pasteStep(weighing) {
  const code = weighing.advice.component;
  if (cansOf(code).length === 0) return pourStep(weighing, null);
  const can = await canFor(weighing, code);
  if (can) await pourStep(weighing, can);
}
