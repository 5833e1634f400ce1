/**
 * From display readings to pours.
 *
 * The display runs on: each reading ends one pour and starts the next. A reading taken again
 * stands in the place of the one it refers to. A voided reading with no replacement merges its
 * neighbours; if they are of different parts, how much went into each is no longer known.
 */
import { LIMIT_GUARD } from '../constants.js';
import { isWireNumber } from '../numbers.js';

/** @typedef {import('../../types.js').Pour} Pour */
/** @typedef {import('../../types.js').Readings} Readings */
/** @typedef {import('../../types.js').Row} Row */
/** @typedef {import('../../types.js').UnknownReason} UnknownReason */

/** @type {ReadonlySet<string>} */
export const READING_KINDS = new Set(['weighed', 'rezeroed', 'scale_restarted']);

/**
 * Work out the pours of one cup.
 * @param {readonly Row[]} rows rows of the cup in chain order
 * @param {ReadonlySet<string>} voided event ids of rows that were struck
 * @returns {Readings} pours in grams, the display now, and why they are not known if they are not
 */
export function read(rows, voided) {
  const replacements = replacementsOf(rows, voided);
  const tally = new Tally();
  for (const row of rows) {
    if (!READING_KINDS.has(row.kind) || (row.kind === 'weighed' && row.refers_to)) continue;
    const own = voided.has(row.event_id) ? null : { id: row.event_id, value: row.value };
    const standing = replacements.get(row.event_id) ?? own;
    if (standing === null || !isWireNumber(standing.value)) tally.miss(row);
    else tally.take(row, Number(standing.value), standing.id);
  }
  return tally.result();
}

/**
 * Standing reading of each that was read again, by the id of the first.
 * @param {readonly Row[]} rows
 * @param {ReadonlySet<string>} voided
 * @returns {Map<string, { id: string, value: string }>}
 */
function replacementsOf(rows, voided) {
  /** @type {Map<string, string>} */
  const first = new Map();
  /** @type {Map<string, { id: string, value: string }>} */
  const latest = new Map();
  for (const row of rows) {
    if (row.kind !== 'weighed' || !row.refers_to) continue;
    const root = first.get(row.refers_to) ?? row.refers_to;
    first.set(row.event_id, root);
    if (!voided.has(row.event_id) && isWireNumber(row.value)) {
      latest.set(root, { id: row.event_id, value: row.value });
    }
  }
  return latest;
}

class Tally {
  constructor() {
    /** @type {Pour[]} */
    this.pours = [];
    /** @type {number | null} */
    this.cupG = null;
    /** @type {number | null} */
    this.beforeG = null;
    this.opens = true;
    /** @type {Set<string>} */
    this.merged = new Set();
    /** @type {UnknownReason} */
    this.unknown = '';
    this.lastId = '';
    this.lastComponent = '';
  }

  /**
   * A reading that is gone: what it ended runs on into the next pour.
   * @param {Row} row
   */
  miss(row) {
    if (row.kind !== 'weighed') this.fail('reading_missing');
    else if (row.component !== 'cup') this.merged.add(row.component);
  }

  /**
   * @param {Row} row
   * @param {number} displayG
   * @param {string} standingId
   */
  take(row, displayG, standingId) {
    if (row.kind === 'weighed') {
      this.lastId = standingId;
      this.lastComponent = row.component;
    }
    if (row.kind === 'rezeroed') {
      this.beforeG = displayG;
      this.opens = true;
    } else if (row.kind === 'scale_restarted') {
      this.restart(row, displayG);
    } else if (row.component === 'cup') {
      this.cupG = this.beforeG = displayG;
      this.opens = true;
    } else {
      this.pour(row.component, displayG);
    }
  }

  /**
   * @param {string} component
   * @param {number} displayG
   */
  pour(component, displayG) {
    if (this.beforeG === null) {
      this.fail('no_first_reading');
      this.beforeG = 0.0;
    }
    if (this.mergedWithOther(component)) this.fail('reading_missing');
    this.merged = new Set();
    const netG = displayG - this.beforeG;
    if (netG < -LIMIT_GUARD) this.fail('falling_reading');
    this.pours.push({ component, net_g: netG, opens: this.opens });
    this.beforeG = displayG;
    this.opens = false;
  }

  /**
   * The scale came back from zero: what it shows is cup and content.
   * @param {Row} row
   * @param {number} grossG
   */
  restart(row, grossG) {
    if (!this.cupG) {
      this.fail('restart_without_cup');
      return;
    }
    let contentG = 0.0;
    for (const pour of this.pours) contentG += pour.net_g;
    const netG = grossG - this.cupG - contentG;
    if (row.component === 'a' || row.component === 'b' || this.merged.size > 0) {
      const component = row.component || ([...this.merged][0] ?? '');
      if (this.mergedWithOther(component) || netG < -LIMIT_GUARD) this.fail('reading_missing');
      this.pours.push({ component, net_g: netG, opens: this.opens });
    }
    this.merged = new Set();
    this.beforeG = grossG;
    this.opens = !row.component;
  }

  /**
   * Whether a lost reading ended a pour of another part than this one.
   * @param {string} component
   * @returns {boolean}
   */
  mergedWithOther(component) {
    return this.merged.size > (this.merged.has(component) ? 1 : 0);
  }

  /** @param {UnknownReason} reason */
  fail(reason) {
    this.unknown = this.unknown || reason;
  }

  /** @returns {Readings} */
  result() {
    return {
      pours: this.pours,
      cup_g: this.cupG,
      display_g: this.beforeG,
      unknown: this.unknown,
      opens: this.opens,
      last_id: this.lastId,
      last_component: this.lastComponent,
    };
  }
}
