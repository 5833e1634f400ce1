/**
 * The cup: what is in it, and the one next thing to do.
 *
 * `fold` turns the rows of one cup into its state; `advise` says what comes next. Both are pure
 * and run alike on the phone and on the server.
 */
export { added } from './additive.js';
export { Action, advise } from './advice.js';
export { fold } from './fold.js';
export { CupState } from './progress.js';
export { cupUsable } from './state.js';
