/** Where a step stands, as a shape: what colour says must be seen without it. */
import { svg } from './el.js';

const LINES = {
  locked: 'M 14 20 v -5 a 6 6 0 0 1 12 0 v 5 M 10 20 h 20 v 12 h -20 z',
  waiting: 'M 20 6 a 14 14 0 1 0 0.01 0 M 20 11 v 9 l 6 4',
  ready: 'M 13 7 l 20 13 l -20 13 z',
  running: 'M 13 7 l 20 13 l -20 13 z',
  done: 'M 7 21 l 9 10 l 17 -22',
  late: 'M 20 5 l 16 29 h -32 z M 20 16 v 8 M 20 28 v 2',
};

/**
 * Padlock, clock, arrow in outline, arrow, tick, or triangle with an exclamation mark.
 * @param {import('../types.js').StepStateWord} state
 */
export function stateShape(state) {
  const drawing = svg('svg', { viewBox: '0 0 40 40', class: `state-shape state-${state}`, 'aria-hidden': 'true' });
  drawing.append(svg('path', { d: LINES[state] }));
  return drawing;
}
