/**
 * The steel rule beside the cup.
 *
 * While pouring it is graduated in grams around the display's stop, with the tolerance window and,
 * darker, the part of it this scale can prove. After the reading it is graduated in ratio error;
 * the pointer's thick bar is the scale's uncertainty, so that "proven" is seen: the bar inside the
 * band, across its edge, or outside.
 */
import { fixed } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { svg } from './el.js';

const TOP = 8;
const BOTTOM = 212;
const EDGE = 14;

/** @typedef {{low: number, high: number, step: number, decimals: number}} Graduation */

/**
 * @param {{stop_g: number, step_g: number, decimals: number, limit_g: number | null,
 *   window: import('../types.js').Window | null}} target
 * @returns {{element: SVGElement, point: (display_g: number | null) => void}}
 *   `point` moves the pointer to a display that is being typed
 */
export function gramRule(target) {
  const { stop_g, step_g, window } = target;
  const half_g = window ? (window.accept_high_g - window.accept_low_g) * 3 : stop_g * 0.035;
  const graduation = graduate(stop_g, Math.max(half_g, step_g * 40));
  const drawing = ruler(graduation, (value) => figure(value.toFixed(graduation.decimals)));
  if (window) {
    band(drawing, graduation, window.accept_low_g, window.accept_high_g, 'band');
    if (window.proven_low_g !== null && window.proven_high_g !== null) {
      band(drawing, graduation, window.proven_low_g, window.proven_high_g, 'band-proven');
    }
  }
  if (target.limit_g !== null && target.limit_g < graduation.high) {
    drawing.append(limitMark(place(graduation, target.limit_g)));
  }
  drawing.append(stopMark(place(graduation, stop_g)));
  const pointer = svg('g', { class: 'pointer' });
  drawing.append(pointer);
  return {
    element: drawing,
    point: (display_g) => pointer.replaceChildren(...pointerShapes(graduation, display_g, step_g)),
  };
}

/**
 * @param {{error: number, uncertainty: number, tolerance: number, verdict: string}} judged
 *   plain numbers, not per cent
 * @returns {SVGElement}
 */
export function errorRule({ error, uncertainty, tolerance, verdict }) {
  const percent = tolerance * 100;
  const graduation = graduate(0, percent * 3.4, percent);
  const drawing = ruler(graduation, (value) =>
    value === 0 ? '0 %' : figure(`${value > 0 ? '+' : ''}${value.toFixed(graduation.decimals)}`),
  );
  band(drawing, graduation, -percent, percent, 'band');
  const at = Math.min(Math.max(error * 100, graduation.low), graduation.high);
  const bar = [at - uncertainty * 100, at + uncertainty * 100].map((value) =>
    place(graduation, Math.min(Math.max(value, graduation.low), graduation.high)),
  );
  const y = place(graduation, at);
  const kind = verdict.startsWith('in') ? 'in' : 'out';
  drawing.append(
    svg('path', { d: `M 78 ${y} l 16 -9 v 18 z`, class: `mark-${kind}` }),
    svg('rect', {
      x: 92,
      y: Math.min(...bar) - 1,
      width: 10,
      height: Math.max(Math.abs(bar[0] - bar[1]) + 2, 4),
      class: `mark-${kind}`,
    }),
    svg('text', { x: 110, y: y + 9, class: `error-figure mark-${kind}` }, `${signedPercent(error)} %`),
  );
  return drawing;
}

/**
 * A ratio error in per cent, with its sign; a zero carries none.
 * @param {number} error
 */
export function signedPercent(error) {
  const text = fixed(error * 100, 1);
  return figure(Number(text) > 0 ? `+${text}` : text);
}

/**
 * Round graduation around a middle.
 * @param {number} middle
 * @param {number} half
 * @param {number} [forced]  step of the labels
 * @returns {Graduation}
 */
function graduate(middle, half, forced) {
  const rough = half / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const nice = [1, 2, 5, 10].find((factor) => factor * power >= rough * 0.999) ?? 10;
  const step = forced ?? nice * power;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return { low: middle - half, high: middle + half, step, decimals: Math.min(decimals, 3) };
}

/**
 * @param {Graduation} graduation
 * @param {number} value
 */
function place({ low, high }, value) {
  return BOTTOM - ((value - low) / (high - low)) * (BOTTOM - TOP);
}

/**
 * @param {Graduation} graduation
 * @param {(value: number) => string} label
 */
function ruler(graduation, label) {
  const drawing = svg('svg', { viewBox: '0 0 220 220', class: 'rule', role: 'img' });
  drawing.append(svg('title', {}, t('Rule')));
  const { low, high, step } = graduation;
  for (let count = Math.ceil((low / step) * 2); count * (step / 2) <= high; count += 1) {
    const y = place(graduation, (count * step) / 2);
    const labelled = count % 2 === 0;
    drawing.append(
      svg('line', { x1: EDGE, x2: EDGE + (labelled ? 24 : 13), y1: y, y2: y, class: 'tick' }),
    );
    if (labelled && y > TOP + 2 && y < BOTTOM - 2) {
      drawing.append(svg('text', { x: EDGE + 30, y: y + 5, class: 'tick-label' }, label((count * step) / 2)));
    }
  }
  drawing.append(svg('line', { x1: EDGE, x2: EDGE, y1: TOP - 4, y2: BOTTOM + 4, class: 'rule-edge' }));
  return drawing;
}

/**
 * A band lies under the graduation.
 * @param {SVGElement} drawing
 * @param {Graduation} graduation
 * @param {number} low
 * @param {number} high
 * @param {string} name
 */
function band(drawing, graduation, low, high, name) {
  const top = Math.max(place(graduation, high), TOP);
  const bottom = Math.min(place(graduation, low), BOTTOM);
  const shapes = [
    svg('rect', { x: EDGE, y: top, width: 196, height: Math.max(bottom - top, 1), class: name }),
  ];
  if (name === 'band') {
    for (const y of [top, bottom]) {
      shapes.push(svg('line', { x1: 88, x2: 210, y1: y, y2: y, class: 'band-edge' }));
    }
  }
  const first = drawing.querySelector('line.tick');
  for (const shape of shapes) drawing.insertBefore(shape, first);
}

/** @param {number} y */
function stopMark(y) {
  return svg(
    'g',
    { class: 'stop-mark' },
    svg('path', { d: `M 96 ${y} l 18 -10 v 20 z` }),
    svg('line', { x1: 112, x2: 206, y1: y, y2: y }),
    svg('text', { x: 122, y: y - 7 }, t('stop')),
  );
}

/** @param {number} y */
function limitMark(y) {
  return svg('line', { x1: EDGE, x2: 206, y1: y, y2: y, class: 'limit-mark' });
}

/**
 * @param {Graduation} graduation
 * @param {number | null} display_g
 * @param {number} step_g
 */
function pointerShapes(graduation, display_g, step_g) {
  if (display_g === null) return [];
  const at = Math.min(Math.max(display_g, graduation.low), graduation.high);
  const y = place(graduation, at);
  // Expanded uncertainty of the poured mass from two readings: 2 d / sqrt(6).
  const half = ((2 * step_g) / Math.sqrt(6) / (graduation.high - graduation.low)) * (BOTTOM - TOP);
  return [
    svg('path', { d: `M ${EDGE + 2} ${y} l 14 -8 v 16 z` }),
    svg('rect', { x: EDGE + 14, y: y - half, width: 7, height: Math.max(half * 2, 3) }),
  ];
}
