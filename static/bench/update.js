/**
 * The worker: registered here, updated only when a person says so and no cup is on the scale.
 */

import { WORKER, scriptAddress } from './script-addresses.js';

/**
 * Register the worker and tell when a new one waits.
 * @param {(reload: () => void) => void} tell
 */
export async function watchWorker(tell) {
  if (!navigator.serviceWorker) return;
  const registration = await navigator.serviceWorker.register(scriptAddress(WORKER), {
    scope: '/',
    updateViaCache: 'none',
  });
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

/** @param {ServiceWorker} waiting */
function takeOver(waiting) {
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  waiting.postMessage('take over');
}

/** @param {() => void} act */
function whenNoCupIsOnTheScale(act) {
  const busy = () => /^#\/(weigh|cans|scrap|scan|type|found)/.test(location.hash);
  if (!busy()) return act();
  const look = () => {
    if (busy()) return;
    window.removeEventListener('hashchange', look);
    act();
  };
  window.addEventListener('hashchange', look);
}
