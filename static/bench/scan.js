/**
 * The camera and the reader of patterns: open for one scan, shut when its picture is gone.
 *
 * Frames go to a worker one at a time, so a slow phone reads fewer of them and never falls behind.
 */
import { SCAN_WORKER, scriptAddress } from './script-addresses.js';

/** Enough for a hand that aims, and a battery that has to last a day. */
const FRAME_EVERY_MS = 120;
/** Longest side of what is read; a label at reading distance has several pixels a module then. */
const LONGEST_PX = 1280;
const WANTED = {
  audio: false,
  video: { facingMode: { ideal: 'environment' }, width: { ideal: 1280 }, height: { ideal: 720 } },
};

/** @typedef {'not_allowed' | 'no_camera' | 'busy' | 'not_here' | 'reader'} ScanProblem */
/** @typedef {{stop: () => void, torch: ((on: boolean) => Promise<void>) | null}} OpenCamera */

/** Why there is no scan. */
export class NoScan extends Error {
  /** @param {ScanProblem} problem */
  constructor(problem) {
    super(problem);
    this.problem = problem;
  }
}

/**
 * Show the camera in an element of the page and read patterns until stopped, or until the element
 * has left the page.
 * @param {HTMLVideoElement} video
 * @param {(texts: string[]) => void} onfound  texts of the patterns in one frame, at least one
 * @param {(problem: ScanProblem) => void} onproblem  the reader failed, or the camera went away
 * @returns {Promise<OpenCamera>}
 * @throws {NoScan}
 */
export async function openCamera(video, onfound, onproblem) {
  const stream = await askForCamera();
  const [track] = stream.getVideoTracks();
  const reader = readerFor(stream);
  const gone = new AbortController();
  const stop = () => {
    gone.abort();
    for (const one of stream.getTracks()) one.stop();
    reader.terminate();
    video.srcObject = null;
  };
  const failed = (/** @type {ScanProblem} */ problem) => {
    if (gone.signal.aborted) return;
    stop();
    onproblem(problem);
  };
  track?.addEventListener('ended', () => failed('busy'));
  reader.addEventListener('error', () => failed('reader'));
  reader.addEventListener('message', ({ data }) => {
    if (gone.signal.aborted) return;
    if (data.failed) return failed('reader');
    if (data.texts.length) onfound(data.texts);
    setTimeout(look, FRAME_EVERY_MS);
  });
  const look = () => {
    if (gone.signal.aborted) return;
    if (!video.isConnected) return stop();
    const frame = frameOf(video);
    if (frame) reader.postMessage(frame, [frame.data.buffer]);
    else setTimeout(look, FRAME_EVERY_MS);
  };
  video.srcObject = stream;
  await video.play().catch(() => {});
  look();
  return { stop, torch: torchOf(track) };
}

/**
 * @param {MediaStream} stream
 * @returns {Worker}
 * @throws {NoScan} this browser starts no such worker; the camera is free again
 */
function readerFor(stream) {
  try {
    return new Worker(scriptAddress(SCAN_WORKER), { type: 'module' });
  } catch (error) {
    console.error(error);
    for (const one of stream.getTracks()) one.stop();
    throw new NoScan('reader');
  }
}

/** @returns {Promise<MediaStream>} */
async function askForCamera() {
  // Only a secure page has it: https, or this very machine.
  if (!navigator.mediaDevices?.getUserMedia) throw new NoScan('not_here');
  try {
    return await navigator.mediaDevices.getUserMedia(WANTED);
  } catch (error) {
    /** @type {Record<string, ScanProblem>} */
    const problems = { NotAllowedError: 'not_allowed', SecurityError: 'not_allowed', NotFoundError: 'no_camera', OverconstrainedError: 'no_camera' };
    throw new NoScan(problems[error instanceof DOMException ? error.name : ''] ?? 'busy');
  }
}

const canvas = document.createElement('canvas');

/**
 * @param {HTMLVideoElement} video
 * @returns {ImageData | null}
 */
function frameOf(video) {
  if (video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA || !video.videoWidth) return null;
  const scale = Math.min(1, LONGEST_PX / Math.max(video.videoWidth, video.videoHeight));
  canvas.width = Math.round(video.videoWidth * scale);
  canvas.height = Math.round(video.videoHeight * scale);
  const context = canvas.getContext('2d', { willReadFrequently: true });
  context?.drawImage(video, 0, 0, canvas.width, canvas.height);
  return context?.getImageData(0, 0, canvas.width, canvas.height) ?? null;
}

/** @param {MediaStreamTrack | undefined} track */
function torchOf(track) {
  const able = /** @type {{torch?: boolean} | undefined} */ (track?.getCapabilities?.());
  if (!track || !able?.torch) return null;
  return (/** @type {boolean} */ on) =>
    track.applyConstraints({ advanced: [/** @type {MediaTrackConstraintSet} */ ({ torch: on })] });
}
