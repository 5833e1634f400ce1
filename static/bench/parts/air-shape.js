/** Whether a mould may be laid up, as a shape: clear of the dew line, wet, or not known. */
import { svg } from './el.js';

/**
 * The dashed line is the dew point, the solid bar the mould.
 * @param {'go' | 'hold' | 'ask'} word
 * @returns {SVGElement}
 */
export function airShape(word) {
  const drawing = svg('svg', { viewBox: '0 0 60 48', class: 'shape solid', 'aria-hidden': 'true' });
  if (word === 'ask') {
    drawing.append(svg('text', { x: 30, y: 38, class: 'shape-query air-query' }, '?'));
    return drawing;
  }
  const mould_y = word === 'go' ? 8 : 34;
  drawing.append(
    svg('line', { x1: 4, x2: 56, y1: 42, y2: 42, class: 'shape-band' }),
    svg('line', { x1: 4, x2: 56, y1: mould_y, y2: mould_y, class: 'air-mould' }),
    svg('path', { d: word === 'go' ? 'M 30 14 l 12 13 h -7 v 11 h -10 v -11 h -7 z' : 'M 30 3 c 5 8 9 11 9 17 a 9 9 0 0 1 -18 0 c 0 -6 4 -9 9 -17 z', class: 'shape-arrow' }),
  );
  return drawing;
}
