/** The script addresses this app ever makes; anything else is refused by the browser. */

/** @typedef {{createScriptURL: (text: string) => string}} Policy */

export const WORKER = '/worker.js';
export const SCAN_WORKER = '/static/bench/scan-worker.js';

const KNOWN = new Set([WORKER, SCAN_WORKER]);

/** @type {Policy | null} */
let policy = null;

/**
 * An address a worker may be started from.
 * @param {string} address  one of the two above
 * @returns {string}
 */
export function scriptAddress(address) {
  const types = /** @type {any} */ (window).trustedTypes;
  if (!types) return address;
  policy ??= /** @type {Policy} */ (types.createPolicy('companion', { createScriptURL }));
  return policy.createScriptURL(address);
}

/** @param {string} text */
function createScriptURL(text) {
  if (!KNOWN.has(text)) throw new TypeError(`not a script of ours: ${text}`);
  return text;
}
