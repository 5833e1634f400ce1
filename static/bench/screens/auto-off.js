/** The scale is about to switch itself off: touch the pan, or go on. */
import { READINGS } from '../clocks.js';
import { el } from '../parts/el.js';
import { softSound } from '../parts/sound.js';
import { nagAfterS } from '../trade/auto-off.js';
import { figure, t } from '../words.js';

/** @typedef {import('./weigh.js').Weighing} Weighing */

/**
 * A line that appears when the scale has shown the same for most of its auto-off time. It sounds
 * once and never shakes the bench.
 * @param {Weighing} weighing
 */
export function autoOffNote({ known, scale }) {
  const nag_s = nagAfterS(scale);
  const last = known.rows.filter((row) => READINGS.has(row.kind)).at(-1);
  const line = el('p', { class: 'auto-off', role: 'status' });
  if (nag_s === null || !last) return line;
  let said = false;
  const tick = () => {
    const still_s = (Date.now() - Date.parse(last.recorded_at)) / 1000;
    const left_s = Math.ceil((scale.auto_off_s ?? 0) - still_s);
    if (still_s >= nag_s) {
      line.replaceChildren(el('span', { class: 'triangle', 'aria-hidden': 'true' }, '\u26a0'), ...words(known.code, scale.code, left_s));
      if (!said && left_s > 0) void softSound();
      said = true;
    }
    setTimeout(() => line.isConnected && tick(), 500);
  };
  setTimeout(tick);
  return line;
}

/**
 * @param {string} code  of the cup
 * @param {string} scale
 * @param {number} left_s
 */
function words(code, scale, left_s) {
  if (left_s > 0) return [el('span', {}, t('Touch the pan: scale %(code)s switches off in %(seconds)s s.', { code: scale, seconds: figure(String(left_s)) }))];
  return [el('a', { href: `#/restarted/${code}` }, t('Scale %(code)s may be off by now. Is its display dark?', { code: scale }))];
}
