/** How a clock stands, as a shape: a part of a dial, a full dial with a mark, or an open one. */
import { svg } from './el.js';

const DIAL = 'M20 4a16 16 0 1 0 .01 0';
const HANDS = {
  running: 'M20 20V10',
  soon: 'M20 20H8',
  over: 'M12 12l16 16M28 12L12 28',
  open: 'M12 20l6 6 11-12',
};

/** @param {import('../types.js').TempoWord} tempo */
export function tempoShape(tempo) {
  return svg(
    'svg',
    { class: 'tempo-shape', viewBox: '0 0 40 40', 'aria-hidden': 'true' },
    svg('path', { d: DIAL, class: tempo === 'over' ? 'dial dial-full' : 'dial' }),
    svg('path', { d: HANDS[tempo], class: 'hand' }),
  );
}
