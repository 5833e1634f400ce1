/** Keep the screen on while something is on the scale, where the phone allows it. */

/** @type {WakeLockSentinel | null} */
let held = null;
let wanted = false;

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
}

document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible' && wanted) void stayAwake(true);
});
