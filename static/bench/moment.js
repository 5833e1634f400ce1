/**
 * The moment a closing limit is judged at. A phone's clock may be set back, by a person or by the
 * network; whoever counts by it then counts too long. So the later of the wall clock, of the time
 * that has passed in this page, and of the last moment the app was known to run is taken: on doubt
 * the shorter remaining time. What is recorded keeps the wall clock as it is.
 */
const STARTED_WALL_MS = Date.now();
const STARTED_MS = performance.now();
/** Set back by more than this it is said. */
const WORTH_A_WORD_MS = 60_000;
let alive_ms = 0;

/** @param {string} alive_at  when the app was last known to run, RFC 3339; may be empty */
export function runsSince(alive_at) {
  alive_ms = Math.max(alive_ms, Date.parse(alive_at) || 0);
}

/** @returns {number} milliseconds since 1970 */
export function nowMs() {
  return Math.max(Date.now(), STARTED_WALL_MS + performance.now() - STARTED_MS, alive_ms);
}

/** The same as the log writes a time. */
export function nowUtc() {
  return new Date(nowMs()).toISOString();
}

/** Whether the wall clock stands so far behind that a person should know. */
export function isSetBack() {
  return nowMs() - Date.now() > WORTH_A_WORD_MS;
}
