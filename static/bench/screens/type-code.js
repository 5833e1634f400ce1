/** Type the code of a label: as good as scanning it, its check character sees to that. */
import { el, button } from '../parts/el.js';
import { ALPHABET, CODE_LENGTH, forgive } from '../trade/codes.js';
import { t } from '../words.js';
import { answer, backFrom, purposeOf, purposeWords } from './answer.js';
import { draw, plainHeader } from './frame.js';

/** @typedef {import('./answer.js').Purpose} Purpose */

/** @param {string[]} rest  of the address */
export function typeScreen(rest) {
  const purpose = purposeOf(rest);
  const problem = el('p', { class: 'problem', role: 'alert' });
  const proposals = el('div', { class: 'proposals' });
  const field = el('output', { class: 'code-entry', 'aria-label': t('Code typed so far') });
  let typed = '';
  let busy = false;
  const set = (/** @type {string} */ text) => {
    typed = text;
    field.replaceChildren(...slots(typed));
    problem.textContent = '';
    proposals.replaceChildren();
    if (lengthOf(typed) >= CODE_LENGTH) void take();
  };
  const take = async (/** @type {string} */ code = '') => {
    if (busy) return;
    const read = code ? { code, problem: '', proposals: [] } : forgive(typed);
    proposals.replaceChildren(...read.proposals.map((one) => button('second', t('Is it %(code)s?', { code: one }), () => take(one))));
    problem.textContent = typedWords(read.problem, typed, read.proposals.length > 0);
    if (!read.code) return;
    busy = true;
    try {
      problem.textContent = await answer(purpose, read.code, '');
    } finally {
      busy = false;
    }
  };
  const keys = [...ALPHABET].map((character) => button('key', character, () => set(typed + character)));
  const back = button('key', '⌫', () => set([...typed].slice(0, -1).join('')), { 'aria-label': t('Delete the last character') });
  const root = el('div', { class: 'code-keys' }, ...keys, back, button('key key-words', t('Clear'), () => set('')));
  draw(
    'type-code',
    plainHeader(t('Type the code'), backFrom(purpose)),
    el('p', { class: 'instruction' }, purposeWords(purpose)),
    field,
    problem,
    proposals,
    root,
    el('a', { class: 'quiet', href: `#/${['scan', ...rest].join('/')}` }, t('Scan instead')),
  );
  set('');
  listen(root, (text) => set(typed + text), () => set([...typed].slice(0, -1).join('')), take);
}

/** @param {string} typed */
function lengthOf(typed) {
  return typed.replace(/[\s-]/g, '').length;
}

/** @param {string} typed */
function slots(typed) {
  const characters = [...typed];
  const length = Math.max(CODE_LENGTH, characters.length);
  return Array.from({ length }, (_, place) => el('span', {}, characters[place] ?? '·'));
}

/**
 * @param {string} problem
 * @param {string} typed
 * @param {boolean} proposed
 */
function typedWords(problem, typed, proposed) {
  /** @type {Record<string, string>} */
  const words = {
    length: t('A code has six characters.'),
    zero_or_o: t('No code holds a zero or the letter O. Look again at “%(typed)s”.', { typed }),
    character: t('Only digits and letters stand in a code. Look again at “%(typed)s”.', { typed }),
    check: proposed
      ? t('The check of “%(typed)s” does not fit. Look at the label before you choose.', { typed })
      : t('The check of “%(typed)s” does not fit. Look again at the label.', { typed }),
  };
  return words[problem] ?? '';
}

/**
 * Hardware keys and paste, while the keys are on the page.
 * @param {HTMLElement} root
 * @param {(text: string) => void} add
 * @param {() => void} back
 * @param {() => void} take
 */
function listen(root, add, back, take) {
  const gone = new AbortController();
  const { signal } = gone;
  document.addEventListener(
    'keydown',
    (event) => {
      if (!root.isConnected) return gone.abort();
      if (event.ctrlKey || event.metaKey || event.altKey || document.querySelector('dialog[open]')) return;
      if (event.target instanceof Element && event.target.closest('a')) return;
      if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)) void take();
      else if (event.key === 'Backspace') back();
      else if (event.key.length === 1 && event.key !== ' ') add(event.key.toUpperCase());
      else return;
      event.preventDefault();
    },
    { signal },
  );
  document.addEventListener(
    'paste',
    (event) => {
      if (!root.isConnected) return gone.abort();
      add((event.clipboardData?.getData('text') ?? '').trim().toUpperCase());
      event.preventDefault();
    },
    { signal },
  );
}
