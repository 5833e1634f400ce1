/**
 * The cup in section: real proportions, part A plain, hardener hatched, a letter on each layer.
 */
import { fixed } from '../trade/numbers.js';
import { figure, t } from '../words.js';
import { svg } from './el.js';

const TOP = 14;
const BOTTOM = 190;
const TOP_HALF = 62;
const BOTTOM_HALF = 44;
const MIDDLE = 75;
/** A cup is drawn full at this share of its height: nobody fills one to the rim. */
const FULL_SHARE = 0.92;

/**
 * @param {{component: string, net_g: number}[]} layers  from the bottom up, grams
 * @param {number} capacity_g  mix that fills the cup
 * @returns {SVGElement}
 */
export function cupSection(layers, capacity_g) {
  const merged = merge(layers);
  const drawing = svg('svg', { viewBox: '0 0 150 204', class: 'cup-section', role: 'img' });
  drawing.append(svg('title', {}, description(merged)), hatch());
  let below_g = 0;
  for (const layer of merged) {
    const from = heightShare(below_g / capacity_g);
    below_g += layer.net_g;
    drawing.append(...layerShapes(layer.component, from, heightShare(below_g / capacity_g)));
  }
  drawing.append(outline());
  return drawing;
}

/** @param {{component: string, net_g: number}[]} layers */
function merge(layers) {
  /** @type {{component: string, net_g: number}[]} */
  const merged = [];
  for (const { component, net_g } of layers) {
    const last = merged.at(-1);
    if (last?.component === component) last.net_g += net_g;
    else if (net_g > 0) merged.push({ component, net_g });
  }
  return merged;
}

/** @param {{component: string, net_g: number}[]} layers */
function description(layers) {
  if (layers.length === 0) return t('Empty cup');
  const parts = layers.map((layer) => `${layer.component.toUpperCase()} ${figure(fixed(layer.net_g, 1))} g`);
  return t('Cup with %(layers)s', { layers: parts.join(', ') });
}

/**
 * Height of a filling in a tapered cup: the share of the volume turned into a share of the height.
 * @param {number} share  of the full volume, 0 and more
 * @returns {number} 0 to 1
 */
export function heightShare(share) {
  const widening = TOP_HALF / BOTTOM_HALF - 1;
  /** @param {number} h */
  const volume = (h) => (1 + widening * h) ** 3 - 1;
  const wanted = Math.min(Math.max(share, 0), 1.06) * volume(FULL_SHARE) + 1;
  return Math.min((Math.cbrt(wanted) - 1) / widening, 1);
}

/** @param {number} share  of the height */
function edge(share) {
  return {
    y: BOTTOM - share * (BOTTOM - TOP),
    half: BOTTOM_HALF + share * (TOP_HALF - BOTTOM_HALF),
  };
}

/**
 * @param {string} component
 * @param {number} from  share of the height
 * @param {number} to  share of the height
 */
function layerShapes(component, from, to) {
  const low = edge(from);
  const high = edge(to);
  const points = [
    [MIDDLE - high.half, high.y],
    [MIDDLE + high.half, high.y],
    [MIDDLE + low.half, low.y],
    [MIDDLE - low.half, low.y],
  ].join(' ');
  const kind = component === 'a' ? 'resin' : component === 'b' ? 'hardener' : 'additive';
  const shapes = [svg('polygon', { points, class: `layer layer-${kind}` })];
  if (kind === 'hardener') shapes.push(svg('polygon', { points, fill: 'url(#hatch)' }));
  const middle = (low.y + high.y) / 2;
  if (low.y - high.y > 12) {
    const letter = component.length === 1 ? component.toUpperCase() : '+';
    shapes.push(
      svg('rect', { x: MIDDLE - 11, y: middle - 11, width: 22, height: 22, rx: 4, class: `plate plate-${kind}` }),
      svg('text', { x: MIDDLE, y: middle + 6, class: `letter letter-${kind}` }, letter),
    );
  }
  return shapes;
}

function hatch() {
  return svg(
    'defs',
    {},
    svg(
      'pattern',
      { id: 'hatch', width: 8, height: 8, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
      svg('rect', { width: 4, height: 8, class: 'hatch-line' }),
    ),
  );
}

function outline() {
  const path = `M ${MIDDLE - TOP_HALF - 8} ${TOP} H ${MIDDLE - TOP_HALF} L ${MIDDLE - BOTTOM_HALF} ${BOTTOM}
    H ${MIDDLE + BOTTOM_HALF} L ${MIDDLE + TOP_HALF} ${TOP} H ${MIDDLE + TOP_HALF + 8}`;
  return svg('path', { d: path, class: 'cup-outline' });
}
