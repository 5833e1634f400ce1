/** Keep the screen on while something is on the scale, and say so where the phone does not. */

/** @type {WakeLockSentinel | null} */
let held = null;
let wanted = false;
/** Whether the phone was asked and did not grant it. */
let refused = false;
const answers = new EventTarget();

/** @param {boolean} on */
export async function stayAwake(on) {
  wanted = on;
  if (!on) {
    await held?.release();
    held = null;
    return;
  }
  if (held && !held.released) return;
  try {
    held = (await navigator.wakeLock?.request('screen')) ?? null;
  } catch {
    // Refused (battery saver, hidden page): weighing goes on without it.
    held = null;
  }
  refused = held === null;
  answers.dispatchEvent(new Event('answer'));
}

/**
 * Keep an element shown only while the phone may switch its screen off.
 * @template {HTMLElement} Shown
 * @param {Shown} element
 * @returns {Shown}
 */
export function whileNotAwake(element) {
  const show = () => {
    if (!element.isConnected && element.dataset.drawn) return answers.removeEventListener('answer', show);
    element.dataset.drawn = 'yes';
    element.hidden = !refused;
  };
  answers.addEventListener('answer', show);
  element.hidden = !refused;
  return element;
}

document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible' && wanted) void stayAwake(true);
});
