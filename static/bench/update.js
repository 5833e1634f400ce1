/**
 * The worker: registered here, updated only when a person says so and no cup is on the scale.
 */

import { WORKER, scriptAddress } from './script-addresses.js';

/** The page came over a certificate that this phone does not trust, its warning clicked away. */
export class NotTrusted extends Error {}

/**
 * Register the worker and tell when a new one waits.
 * @param {(reload: () => void) => void} tell
 * @throws {NotTrusted}
 */
export async function watchWorker(tell) {
  if (!navigator.serviceWorker) return;
  const registration = await register();
  const offer = () => {
    const { waiting, active } = registration;
    // The first worker of a phone has nothing to replace. Not asked of the controller: WebKit names
    // it before it takes the worker off waiting.
    if (!waiting || !active) return;
    whenNoCupIsOnTheScale(() => tell(() => takeOver(waiting)));
  };
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', offer);
  });
  offer();
}

async function register() {
  const options = /** @type {const} */ ({ scope: '/', updateViaCache: 'none' });
  try {
    return await navigator.serviceWorker.register(scriptAddress(WORKER), options);
  } catch (error) {
    const refused = error instanceof DOMException && error.name === 'SecurityError';
    throw refused && location.protocol === 'https:' ? new NotTrusted(error.message) : error;
  }
}

/** @param {ServiceWorker} waiting */
function takeOver(waiting) {
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  waiting.postMessage('take over');
}

/** @param {() => void} act */
function whenNoCupIsOnTheScale(act) {
  const busy = () => /^#\/(weigh|cans|scrap|scan|type|found|pair)/.test(location.hash);
  if (!busy()) return act();
  const look = () => {
    if (busy()) return;
    window.removeEventListener('hashchange', look);
    act();
  };
  window.addEventListener('hashchange', look);
}
