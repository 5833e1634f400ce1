/** The phone's own voice: says a target or a verdict once, where that was wished for. */
import { facts } from '../log/bench-log.js';
import { currentLanguage } from '../words.js';

/** What was said last; a screen that is drawn anew says it no second time. */
let said = '';

/** Whether the phone has a voice for the language in use. */
export function hasVoice() {
  const voices = globalThis.speechSynthesis?.getVoices() ?? [];
  return voices.some((voice) => voice.lang.split(/[-_]/)[0] === currentLanguage());
}

/**
 * @param {string} place  what it is about; the same text about another cup is said again
 * @param {string} text
 */
export async function sayAloud(place, text) {
  const whole = `${place} ${text}`;
  if (whole === said) return;
  said = whole;
  const { speech_on: on } = await facts('speech_on');
  if (!on || !globalThis.speechSynthesis) return;
  speechSynthesis.cancel();
  const speech = new SpeechSynthesisUtterance(text);
  speech.lang = currentLanguage();
  speechSynthesis.speak(speech);
}
