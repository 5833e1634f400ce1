/** What the arithmetic refuses, with the evidence as fields. */

/** Base of every error of this program. */
export class CompanionError extends Error {
  /** @param {string} message */
  constructor(message) {
    super(message);
    this.name = new.target.name;
  }
}

/** A figure lies outside what the rule accepts. */
export class OutOfRange extends CompanionError {
  /**
   * @param {string} field name of the figure, with its unit
   * @param {unknown} value the figure as it was given
   * @param {string} allowed what is allowed, in words
   */
  constructor(field, value, allowed) {
    super(`${field} is ${String(value)}: allowed is ${allowed}`);
    this.field = field;
    this.value = value;
    this.allowed = allowed;
  }
}

/**
 * Refuse a figure that is not a finite number above zero.
 * @param {string} field
 * @param {number} value
 * @returns {void}
 * @throws {OutOfRange} value is zero, negative, infinite or not a number
 */
export function requirePositive(field, value) {
  if (!(value > 0 && value < Infinity)) throw new OutOfRange(field, value, 'a number above 0');
}

/**
 * A figure, or null where a rule refuses one it rests on.
 * @template T
 * @param {() => T} make
 * @returns {T | null}
 */
export function orNull(make) {
  try {
    return make();
  } catch (error) {
    if (error instanceof OutOfRange) return null;
    throw error;
  }
}
