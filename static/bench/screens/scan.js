/** Scan: the camera looks for a label; typing its code is the equal way. */
import { el } from '../parts/el.js';
import { scannedPairing } from '../pairing-code.js';
import { NoScan, openCamera } from '../scan.js';
import { scanned } from '../trade/codes.js';
import { t } from '../words.js';
import { answer, answerPairing, backFrom, purposeOf, purposeWords } from './answer.js';
import { draw, plainHeader } from './frame.js';

/** @typedef {import('./answer.js').Purpose} Purpose */
/** @typedef {import('../scan.js').OpenCamera} OpenCamera */

/** Longest part of a foreign text that is shown. */
const SHOWN = 60;
/** A label that was answered counts again once it has been out of view for so long. */
const OUT_OF_VIEW_MS = 1500;

/** @param {string[]} rest  of the address */
export async function scanScreen(rest) {
  const purpose = purposeOf(rest);
  const video = el('video', { class: 'camera', playsinline: true, muted: true, 'aria-label': t('Picture of the camera') });
  video.muted = true;
  const problem = el('p', { class: 'problem', role: 'alert' });
  const light = el('div', { class: 'light' });
  draw(
    'scan',
    plainHeader(t('Scan'), backFrom(purpose)),
    el('p', { class: 'instruction' }, purposeWords(purpose)),
    el('div', { class: 'finder' }, video, finderMarks()),
    problem,
    el(
      'div',
      { class: 'actions' },
      light,
      el('a', { class: 'second', href: typeAddress(rest) }, t('Type the code')),
      purpose.name ? null : el('a', { class: 'quiet', href: '#/smeared' }, t('Label cannot be read')),
    ),
  );
  const again = () => void scanScreen(rest);
  await lookOn(purpose, video, problem, light, again);
  watchOver(video, again);
}

/** @param {string[]} rest  of the address */
function typeAddress(rest) {
  return rest[0] === 'pair' ? '#/pair' : `#/${['type', ...rest].join('/')}`;
}

/**
 * A phone put into the pocket gives its camera free; taken out again it looks on.
 * @param {HTMLVideoElement} video
 * @param {() => void} again
 */
function watchOver(video, again) {
  const gone = new AbortController();
  const look = () => {
    // A question that is open is answered first.
    const asked = document.querySelector('dialog[open]') !== null;
    if (!video.isConnected || (!document.hidden && !asked)) gone.abort();
    if (video.isConnected && !document.hidden && !asked) again();
  };
  document.addEventListener('visibilitychange', look, { signal: gone.signal });
}

/**
 * @param {Purpose} purpose
 * @param {HTMLVideoElement} video
 * @param {HTMLElement} problem
 * @param {HTMLElement} light
 * @param {() => void} again
 */
async function lookOn(purpose, video, problem, light, again) {
  let busy = false;
  let answered = { code: '', seen_ms: 0 };
  /** @type {OpenCamera | null} */
  let camera = null;
  const say = (/** @type {string} */ words) => {
    // The same words again would make a screen reader say them over and over.
    if (problem.textContent !== words) problem.textContent = words;
  };
  const isStillInView = (/** @type {string} */ code) => {
    if (!code || code !== answered.code) return false;
    const still = performance.now() - answered.seen_ms < OUT_OF_VIEW_MS;
    answered.seen_ms = performance.now();
    return still;
  };
  const act = async (/** @type {string[]} */ texts) => {
    const found = readTexts(texts);
    if (isStillInView(found.code) || busy) return;
    if (found.words) return say(found.words);
    answered = { code: found.code, seen_ms: performance.now() };
    busy = true;
    try {
      say(found.pairing ? answerPairing(purpose, found.code) : await answer(purpose, found.code, found.place));
    } finally {
      busy = false;
    }
    // The phone was in the pocket while it was asked.
    if (video.isConnected && !video.srcObject) again();
  };
  try {
    camera = await openCamera(video, (texts) => void act(texts), (why) => say(cameraWords(why)));
  } catch (error) {
    if (!(error instanceof NoScan)) throw error;
    return say(cameraWords(error.problem));
  }
  const stop = camera.stop;
  if (!video.isConnected) return stop();
  window.addEventListener('hashchange', stop, { once: true });
  window.addEventListener('pagehide', stop, { once: true });
  document.addEventListener('visibilitychange', stop, { once: true });
  if (camera.torch) light.append(lightButton(camera.torch));
}

/**
 * One code, or what to say of what the camera saw. A foreign text is shown, never opened.
 * @param {string[]} texts
 */
function readTexts(texts) {
  const read = texts.map(readText);
  const codes = new Map(read.filter((one) => one.code).map((one) => [one.code, one]));
  const none = { code: '', place: '', pairing: false };
  if (codes.size > 1) return { ...none, words: t('Two labels are in view. Show one alone.') };
  const [ours] = codes.values();
  if (ours) return { ...ours, words: '' };
  const [{ text, problem }] = read;
  const words =
    problem === 'check'
      ? t('“%(text)s” looks like a code, but its check does not fit. Type the code from the label.', { text })
      : t('Not a label of ours: “%(text)s”. It was not opened.', { text: short(text) });
  return { ...none, words };
}

/** @param {string} text */
function readText(text) {
  const code = scannedPairing(text);
  return code ? { text, code, place: '', problem: '', pairing: true } : { text, ...scanned(text), pairing: false };
}

/** @param {string} text */
function short(text) {
  const plain = [...text.replace(/[\p{C}\p{Z}]+/gu, ' ')];
  return plain.length > SHOWN ? `${plain.slice(0, SHOWN).join('')}…` : plain.join('');
}

/** @param {string} problem */
function cameraWords(problem) {
  /** @type {Record<string, string>} */
  const words = {
    not_allowed: t('The camera is not allowed for this app. Allow it in the settings of the browser, or type the code.'),
    no_camera: t('No camera was found. Type the code.'),
    busy: t('The camera cannot be used now; another app may hold it. Try again, or type the code.'),
    not_here: t('The browser gives no camera to this address. Type the code.'),
    reader: t('Scanning does not work in this browser. Type the code.'),
  };
  return words[problem] ?? problem;
}

/** @param {(on: boolean) => Promise<void>} torch */
function lightButton(torch) {
  let on = false;
  const button = el('button', { type: 'button', class: 'second', 'aria-pressed': 'false' }, t('Light on'));
  button.addEventListener('click', async () => {
    const wanted = !on;
    await torch(wanted).then(
      () => (on = wanted),
      () => {},
    );
    button.setAttribute('aria-pressed', String(on));
    button.textContent = on ? t('Light off') : t('Light on');
  });
  return button;
}

/** Four corners: where the label belongs, whatever the picture shows. */
function finderMarks() {
  return el('span', { class: 'finder-marks', 'aria-hidden': 'true' });
}
