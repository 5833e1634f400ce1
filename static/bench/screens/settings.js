/** What a person sets on this phone: language, sound, voice, size of the digits, hand. */
import { facts, keepFacts } from '../log/bench-log.js';
import { el } from '../parts/el.js';
import { hasVoice } from '../parts/voice.js';
import { currentLanguage, speak, t } from '../words.js';
import { stayingHere, warning } from './frame.js';

/** Facts that are on where the box is ticked, and where they show on the page. */
const MARKS = Object.freeze({ large_digits: ['digits', 'large'], left_hand: ['hand', 'left'] });

/** Set the page up as this phone was told; before anything is drawn. */
export async function applySettings() {
  const told = await facts(...Object.keys(MARKS));
  for (const [name, [mark, value]] of Object.entries(MARKS)) {
    if (told[name]) document.documentElement.dataset[mark] = value;
    else delete document.documentElement.dataset[mark];
  }
}

/**
 * @param {() => void} again  draws the screen anew
 * @returns {Promise<Node[]>}
 */
export async function settings(again) {
  const told = await facts('sound_off', 'speech_on', 'large_digits', 'left_hand');
  return [
    languageChoice(again),
    choice('sound', t('Sound at a stop and an alarm'), !told.sound_off, (on) => keepFacts({ sound_off: !on })),
    choice('speech', t('Say targets and verdicts aloud'), Boolean(told.speech_on), (on) => keepFacts({ speech_on: on })),
    told.speech_on && !hasVoice() ? warning(t('This phone has no voice for this language.')) : null,
    choice('digits', t('Larger digits'), Boolean(told.large_digits), mark('large_digits')),
    choice('hand', t('Keys for the left hand'), Boolean(told.left_hand), mark('left_hand')),
  ].filter((node) => node !== null);
}

/** @param {string} name @returns {(on: boolean) => Promise<void>} */
function mark(name) {
  return async (on) => {
    await keepFacts({ [name]: on });
    await applySettings();
  };
}

/**
 * @param {string} id
 * @param {string} text
 * @param {boolean} on
 * @param {(on: boolean) => Promise<unknown>} set
 */
function choice(id, text, on, set) {
  const box = el('input', { type: 'checkbox', id, checked: on });
  box.addEventListener('change', () => void set(box.checked));
  return el('p', { class: 'setting' }, el('label', { for: id }, text), box);
}

/** @param {() => void} again */
function languageChoice(again) {
  const names = JSON.parse(document.getElementById('languages')?.textContent ?? '{}');
  const select = el(
    'select',
    { id: 'language' },
    ...Object.entries(names).map(([code, name]) =>
      el('option', { value: code, selected: code === currentLanguage() }, String(name)),
    ),
  );
  select.addEventListener('change', async () => {
    const stillHere = stayingHere();
    await speak(select.value);
    await keepFacts({ language: select.value });
    if (stillHere()) again();
  });
  return el('p', { class: 'setting' }, el('label', { for: 'language' }, t('Language')), select);
}
