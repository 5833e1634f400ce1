/**
 * Where this page runs, and whether it may weigh there. What is weighed must not vanish with a
 * window: the installed app may weigh, and so may this very machine; a tab only where the browser
 * keeps its storage for good, and after a warning. Anywhere else the app only looks.
 */
import { facts, keepFacts } from './log/bench-log.js';

/**
 * @typedef {{installed: boolean, loopback: boolean, ios: boolean, kept: boolean,
 *   warned: boolean}} Place
 * `kept`: the browser has promised to keep the storage; `warned`: the warning was accepted
 * @typedef {'weigh' | 'warn' | 'look'} Ruling
 * @typedef {'ios' | 'android' | 'firefox_android' | 'desktop'} Platform
 */

/**
 * Whether weighing is allowed: yes, after a warning, or not at all.
 * @param {Place} place
 * @returns {Ruling}
 */
export function ruling({ installed, loopback, ios, kept, warned }) {
  if (installed || loopback) return 'weigh';
  // Tabs of these phones lose their storage after seven days of use without a tap on this page.
  if (ios || !kept) return 'look';
  return warned ? 'weigh' : 'warn';
}

/**
 * What the browser says it runs on.
 * @param {string} agent  its User-Agent
 * @param {number} touch_points  most fingers the screen feels
 * @returns {Platform}
 */
export function platformOf(agent, touch_points) {
  // A tablet of this make calls itself a desktop computer; no such computer has a touch screen.
  const tablet = /Macintosh/.test(agent) && touch_points > 1;
  if (tablet || /iPhone|iPad|iPod/.test(agent)) return 'ios';
  if (!/Android/.test(agent)) return 'desktop';
  return /Firefox/.test(agent) ? 'firefox_android' : 'android';
}

/**
 * Whether a host is this very machine.
 * @param {string} hostname  as in `location`
 */
export function isLoopback(hostname) {
  return hostname === '[::1]' || /^(127(\.\d+){3}|(.+\.)?localhost)$/.test(hostname);
}

/** @returns {Platform} */
export function platformHere() {
  return platformOf(navigator.userAgent, navigator.maxTouchPoints);
}

/** Whether the app was started from the home screen. */
export function isInstalled() {
  const own = /** @type {{standalone?: boolean}} */ (navigator).standalone === true;
  return own || matchMedia('(display-mode: standalone)').matches;
}

/** @returns {Promise<Place & {ruling: Ruling}>} */
export async function placeHere() {
  const certain = { installed: isInstalled(), loopback: isLoopback(location.hostname) };
  const kept = (await navigator.storage?.persisted?.()) ?? false;
  const warned = (await facts('tab_warned')).tab_warned === true;
  const place = { ...certain, ios: platformHere() === 'ios', kept, warned };
  return { ...place, ruling: ruling(place) };
}

/** The person knows what a tab may lose, and weighs in it. */
export function acceptTab() {
  return keepFacts({ tab_warned: true });
}

/** Ask the browser to keep the storage for good; its answer is kept and shown. */
export async function askToPersist() {
  const persisted = (await navigator.storage?.persist?.()) ?? false;
  await keepFacts({ persisted });
  return persisted;
}
