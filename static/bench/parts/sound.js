/** Sounds: short, and all of them can be switched off; the stop or alarm itself cannot. */
import { facts } from '../log/bench-log.js';

/** @typedef {{pitch_hz: number, lasts_s: number, volume: number}} Tone */

/** A stop. */
export function stopSound() {
  return sound({ pitch_hz: 660, lasts_s: 0.35, volume: 0.15 });
}

/** Something is due soon. */
export function softSound() {
  return sound({ pitch_hz: 440, lasts_s: 0.25, volume: 0.08 });
}

/** @param {Tone} tone */
async function sound({ pitch_hz, lasts_s, volume }) {
  const { sound_off: off } = await facts('sound_off');
  if (off || typeof AudioContext === 'undefined') return;
  const context = new AudioContext();
  const tone = context.createOscillator();
  const gain = context.createGain();
  tone.type = 'square';
  tone.frequency.value = pitch_hz;
  gain.gain.value = volume;
  tone.connect(gain).connect(context.destination);
  tone.start();
  tone.stop(context.currentTime + lasts_s);
  tone.addEventListener('ended', () => void context.close());
}
