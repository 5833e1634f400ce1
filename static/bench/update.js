/**
 * The worker: registered here, updated only when a person says so and no cup is on the scale.
 */

/** @typedef {{createScriptURL: (text: string) => string}} ScriptAddresses */

const WORKER = '/worker.js';

/** The one script address this app ever makes; anything else is refused. */
function workerAddress() {
  const types = /** @type {any} */ (window).trustedTypes;
  if (!types) return WORKER;
  const policy = types.createPolicy('companion', {
    createScriptURL: (/** @type {string} */ text) => {
      if (text !== WORKER) throw new TypeError(`not our worker: ${text}`);
      return text;
    },
  });
  return policy.createScriptURL(WORKER);
}

/**
 * Register the worker and tell when a new one waits.
 * @param {(reload: () => void) => void} tell
 */
export async function watchWorker(tell) {
  if (!navigator.serviceWorker) return;
  const registration = await navigator.serviceWorker.register(workerAddress(), {
    scope: '/',
    updateViaCache: 'none',
  });
  const offer = () => {
    const { waiting } = registration;
    // The first worker of a phone has nothing to replace.
    if (!waiting || !navigator.serviceWorker.controller) return;
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
  const busy = () => /^#\/(weigh|cans|scrap)/.test(location.hash);
  if (!busy()) return act();
  const look = () => {
    if (busy()) return;
    window.removeEventListener('hashchange', look);
    act();
  };
  window.addEventListener('hashchange', look);
}
