/** The shape of a stop: a barred cup, so that it is known without reading and without colour. */
import { svg } from './el.js';

export function stopShape() {
  return svg(
    'svg',
    { viewBox: '0 0 80 80', class: 'stop-shape', 'aria-hidden': 'true' },
    svg('path', { d: 'M 14 12 h 8 l 7 54 h 22 l 7 -54 h 8', class: 'stop-cup' }),
    svg('path', { d: 'M 8 72 L 72 8', class: 'stop-bar' }),
  );
}
