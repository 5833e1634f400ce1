/** A short sound for a stop. It can be switched off; the stop itself cannot. */
import { facts } from '../log/bench-log.js';

const PITCH_HZ = 660;
const LASTS_S = 0.35;

export async function stopSound() {
  const { sound_off: off } = await facts('sound_off');
  if (off || typeof AudioContext === 'undefined') return;
  const context = new AudioContext();
  const tone = context.createOscillator();
  const volume = context.createGain();
  tone.type = 'square';
  tone.frequency.value = PITCH_HZ;
  volume.gain.value = 0.15;
  tone.connect(volume).connect(context.destination);
  tone.start();
  tone.stop(context.currentTime + LASTS_S);
  tone.addEventListener('ended', () => void context.close());
}
