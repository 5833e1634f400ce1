/**
 * Asks the shop over TLS whether this browser trusts its certificate, and shows the way on only
 * if it does. Without this script the page keeps its plain link.
 */

const LIMIT_MS = 8000;
/** @typedef {'checking' | 'trusted' | 'refused' | 'silent'} State */

/**
 * Whether an answer came through, whatever it says: a browser that does not trust gets none.
 * @param {string} address
 * @returns {Promise<State>}
 */
async function ask(address) {
  const limit = new AbortController();
  const timer = setTimeout(() => limit.abort(), LIMIT_MS);
  try {
    await fetch(address, {
      mode: 'no-cors',
      cache: 'no-store',
      credentials: 'omit',
      signal: limit.signal,
    });
    return 'trusted';
  } catch {
    return limit.signal.aborted ? 'silent' : 'refused';
  } finally {
    clearTimeout(timer);
  }
}

/**
 * @param {HTMLElement} place
 * @param {State} state
 */
function show(place, state) {
  place.dataset.state = state;
  for (const part of place.querySelectorAll('[data-when]')) {
    if (part instanceof HTMLElement) part.hidden = part.dataset.when !== state;
  }
}

/** @param {HTMLElement} place */
async function check(place) {
  if (place.dataset.state === 'checking') return;
  show(place, 'checking');
  show(place, await ask(place.dataset.address ?? ''));
}

const place = document.getElementById('check');
if (place) {
  place.querySelector('button')?.addEventListener('click', () => check(place));
  // Back from the settings of the phone: look again without being asked.
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden && place.dataset.state !== 'trusted') check(place);
  });
  check(place);
}
