/**
 * Questions and stops: each fills the screen, says what is the matter, and returns the answer.
 */
import { el } from './el.js';
import { sayAloud } from './voice.js';

/**
 * Ask; resolves with the value of the chosen answer.
 * @template T
 * @param {{kind?: 'ask' | 'stop', title: string, lines?: string[], shape?: SVGElement | null,
 *   answers: {text: string, value: T, main?: boolean}[], reason?: string | null}} question
 *   `reason` labels a text field; answers marked main then need a text
 * @returns {Promise<{value: T, reason: string}>}
 */
export function ask({ kind = 'ask', title, lines = [], shape = null, answers, reason = null }) {
  return new Promise((resolve) => {
    const field = reason === null ? null : el('textarea', { rows: '3', maxlength: '300', id: 'reason' });
    /** @type {HTMLButtonElement[]} */
    const needing = [];
    const dialog = el('dialog', { class: `notice notice-${kind}`, 'aria-labelledby': 'notice-title' });
    const buttons = answers.map(({ text, value, main }) => {
      const choice = el('button', { type: 'button', class: main ? 'action' : 'second' }, text);
      choice.addEventListener('click', () => {
        dialog.remove();
        resolve({ value, reason: field?.value.trim() ?? '' });
      });
      if (main && field) needing.push(choice);
      return choice;
    });
    const allow = () => {
      for (const choice of needing) choice.disabled = !field?.value.trim();
    };
    field?.addEventListener('input', allow);
    allow();
    // A question covers the page, and with it the word that everything here is invented.
    const demo = document.querySelector('.demo-mark')?.cloneNode(true);
    dialog.append(
      ...(demo ? [demo] : []),
      el('div', { class: 'notice-head' }, shape, el('h1', { id: 'notice-title' }, title)),
      ...lines.map((line) => el('p', {}, line)),
      ...(field ? [el('label', { for: 'reason' }, reason ?? ''), field] : []),
      el('div', { class: 'answers' }, ...buttons),
    );
    // A stop is answered, not dismissed.
    dialog.setAttribute('closedby', 'none');
    dialog.addEventListener('cancel', (event) => event.preventDefault());
    // A browser lets a second Back through all the same: then it is simply asked again.
    dialog.addEventListener('close', () => {
      if (dialog.isConnected) dialog.showModal();
    });
    document.body.append(dialog);
    dialog.showModal();
    if (kind === 'stop') void sayAloud(String(Date.now()), title);
  });
}

/**
 * A line at the top of the screen that stays until it is replaced.
 * @param {string} text  empty takes it away
 * @param {HTMLElement[]} [actions]
 */
export function banner(text, actions = []) {
  const place = /** @type {HTMLElement} */ (document.getElementById('banner'));
  place.replaceChildren(...(text ? [el('p', {}, text), ...actions] : []));
}
