/**
 * The keypad: figures of a display, typed with a knuckle, a hardware keyboard or by paste.
 */
import { decimalMark, t } from '../words.js';
import { button, el } from './el.js';

/**
 * @param {{label: string, onread: (typed: string) => unknown, onchange?: (typed: string) => void,
 *   extra?: {text: string, act: () => unknown} | null}} options
 *   `extra` is the key at the lower left
 * @returns {HTMLElement}
 */
export function keypad({ label, onread, onchange = () => {}, extra = null }) {
  const shown = el('output', { class: 'entry-figure', 'aria-label': label });
  let typed = '';
  /** @param {string} text */
  const set = (text) => {
    typed = text;
    shown.textContent = typed;
    // A figure too long for the field shows its end, where the keys are working.
    shown.scrollLeft = shown.scrollWidth;
    onchange(typed);
  };
  const back = button('entry-back', '⌫', () => set(typed.slice(0, -1)), {
    'aria-label': t('Delete the last digit'),
  });
  let reading = false;
  const take = async () => {
    if (reading) return;
    reading = true;
    try {
      await onread(typed);
    } finally {
      reading = false;
    }
  };
  const read = button('read', t('Read'), take);
  /** @param {string} character */
  const key = (character, name = character) =>
    button('key', character, () => set(typed + character), { 'aria-label': name });
  const digits = [...'123456789'].map((digit) => key(digit));
  const root = el(
    'section',
    { class: 'keypad', tabindex: '-1', 'aria-label': t('Keypad') },
    el(
      'div',
      { class: 'entry' },
      el('div', { class: 'entry-field' }, el('span', { class: 'entry-label' }, label), shown, back),
      read,
    ),
    el(
      'div',
      { class: 'keys' },
      ...digits,
      extra ? button('key key-words', extra.text, extra.act) : el('span'),
      key('0'),
      key(decimalMark(), t('Decimal mark')),
    ),
  );
  listen(root, { set, typed: () => typed, read: take });
  return root;
}

/**
 * Hardware keys and paste do what the screen's keys do, while the keypad is on the page.
 * @param {HTMLElement} root
 * @param {{set: (text: string) => void, typed: () => string, read: () => unknown}} pad
 */
function listen(root, pad) {
  const gone = new AbortController();
  /** @param {(event: any) => void} act */
  const whileShown = (act) => (/** @type {Event} */ event) => {
    if (!root.isConnected) gone.abort();
    else if (!(event.target instanceof HTMLTextAreaElement)) act(event);
  };
  document.addEventListener(
    'keydown',
    whileShown((event) => {
      // A key held down is not a second reading; links and lists keep their own keys.
      if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
      if (event.target instanceof Element && event.target.closest('a, select, input, dialog')) return;
      if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)) pad.read();
      else if (event.key === 'Backspace') pad.set(pad.typed().slice(0, -1));
      else if (event.key.length === 1 && event.key !== ' ') pad.set(pad.typed() + event.key);
      else return;
      event.preventDefault();
    }),
    { signal: gone.signal },
  );
  document.addEventListener(
    'paste',
    whileShown((event) => {
      pad.set((event.clipboardData?.getData('text') ?? '').trim());
      event.preventDefault();
    }),
    { signal: gone.signal },
  );
}
