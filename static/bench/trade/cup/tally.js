/** The readings of one cup, taken one after the other. */
import { LIMIT_GUARD, SAME_LOAD_STEPS } from '../constants.js';

/** @typedef {import('../../types.js').Pour} Pour */
/** @typedef {import('../../types.js').Readings} Readings */
/** @typedef {import('../../types.js').Row} Row */
/** @typedef {import('../../types.js').UnknownReason} UnknownReason */

/** The pours so far, and where the display stands. */
export class Tally {
  /** @param {number} stepG */
  constructor(stepG) {
    this.stepG = stepG;
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
    else if (row.component !== 'cup') {
      this.merged.add(row.component);
      // Reading it again is what mends it.
      this.lastId = row.event_id;
      this.lastComponent = row.component;
    }
  }

  /**
   * @param {Row} row
   * @param {number} displayG
   * @param {string} standingId
   */
  take(row, displayG, standingId) {
    const isReading = row.kind === 'weighed';
    // A reading on the base before can't be read again on this one.
    this.lastId = isReading ? standingId : '';
    this.lastComponent = isReading ? row.component : '';
    if (row.kind === 'scale_restarted') {
      this.restart(row, displayG);
    } else if (row.kind === 'rezeroed') {
      this.rebase(displayG);
    } else if (row.component === 'cup') {
      this.rebase(displayG);
      this.cupG = displayG;
    } else {
      this.pour(row.component, displayG);
    }
  }

  /**
   * The display counts from here: what a lost reading ended can't be told any more.
   * @param {number} displayG
   */
  rebase(displayG) {
    if (this.merged.size > 0) this.fail('reading_missing');
    this.merged = new Set();
    this.beforeG = displayG;
    this.opens = true;
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
    const netG = netOfDisplays(displayG - this.beforeG);
    if (netG < 0) this.fail('falling_reading');
    this.pours.push({ component, net_g: netG, opens: this.opens, unfinished: false });
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
    const netG = netOfDisplays(grossG - this.cupG - contentG);
    // The cup is no part that could be poured.
    const poured = row.component === 'cup' ? '' : row.component;
    if (poured || this.merged.size > 0) {
      const component = poured || ([...this.merged].sort()[0] ?? '');
      if (this.mergedWithOther(component) || netG < 0) this.fail('reading_missing');
      this.pours.push({ component, net_g: netG, opens: this.opens, unfinished: poured !== '' });
    } else if (Math.abs(netG) > SAME_LOAD_STEPS * this.stepG + LIMIT_GUARD) {
      this.fail('reading_missing');
    }
    this.merged = new Set();
    this.beforeG = grossG;
    this.opens = poured === '';
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
    const poured = new Set(this.pours.filter((pour) => pour.net_g > 0).map((pour) => pour.component));
    // Something was added to a cup that could be judged, and its reading was struck.
    if (this.merged.size > 0 && poured.has('a') && poured.has('b')) this.fail('reading_missing');
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

/**
 * A difference of displays; far below any display step it is noise of binary fractions.
 * @param {number} massG
 * @returns {number}
 */
function netOfDisplays(massG) {
  return Math.abs(massG) <= LIMIT_GUARD ? 0.0 : massG;
}
