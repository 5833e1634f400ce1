/** The browser's offer to install the app, kept until a person asks for it. */

/** @typedef {Event & {prompt: () => Promise<{outcome: string}>}} Offer */

/** Told when there is an offer, or none any more. */
export const offers = new EventTarget();

/** @type {Offer | null} */
let offer = null;

/** @param {Offer | null} next */
function set(next) {
  offer = next;
  offers.dispatchEvent(new Event('change'));
}

window.addEventListener('beforeinstallprompt', (event) => {
  event.preventDefault();
  set(/** @type {Offer} */ (event));
});
window.addEventListener('appinstalled', () => set(null));

/** Whether the browser can be asked to install. */
export function isOffered() {
  return offer !== null;
}

/** @returns {Promise<boolean>} whether the person said yes; one offer can be taken up once */
export async function takeOffer() {
  const taken = offer;
  const answer = await taken?.prompt();
  set(null);
  return answer?.outcome === 'accepted';
}
