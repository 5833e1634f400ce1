/**
 * The service worker: the whole bench in one cache, or none of it.
 *
 * The server puts two lines in front: VERSION, a hash of everything the bench consists of, and
 * FILES, the list of it. A new version waits until a page tells it to take over.
 */

const CACHE = `bench-${VERSION}`;
const SHELL = '/bench/';
const RESCUE = '/rescue';
/** Address of a label, opened by the phone's own camera: here the app is installed, so it goes on. */
const LABEL = /^\/([CLP])\/([2-9A-HJ-NP-Z]{6})$/;
/** @type {Record<string, string>} */
const PLACES = { C: 'cup', L: 'container', P: 'part' };
/** What the bench alone asks for. */
const BENCH = /^\/static\/(bench|vendor\/zxing)\//;
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

worker.addEventListener('install', (event) => {
  event.waitUntil(install());
});

/** Every file or none: addAll keeps nothing when one of them cannot be had. */
async function install() {
  const cache = await caches.open(CACHE);
  try {
    await cache.addAll(FILES.map((file) => new Request(file, { cache: 'reload' })));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

worker.addEventListener('activate', (event) => {
  event.waitUntil(takeOver());
});

async function takeOver() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith('bench-') && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await worker.clients.claim();
}

worker.addEventListener('message', (event) => {
  if (event.data === 'take over') worker.skipWaiting();
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== location.origin) return;
  if (request.mode === 'navigate') {
    const label = LABEL.exec(pathname);
    if (label) event.respondWith(Response.redirect(`${SHELL}#/found/${label[2]}/${PLACES[label[1]]}`));
    else if (pathname.startsWith(SHELL)) event.respondWith(kept(SHELL, request));
    else if (pathname === RESCUE) event.respondWith(kept(RESCUE, request));
  } else if (FILES.includes(pathname)) {
    event.respondWith(forBench(event, pathname));
  }
});

/**
 * Files come from the cache for pages of the bench only; office pages always ask the server.
 * @param {FetchEvent} event
 * @param {string} pathname
 */
async function forBench(event, pathname) {
  // Firefox tells of a worker only once it has started, and the reader of patterns starts with these.
  if (BENCH.test(pathname)) return kept(pathname, event.request);
  const client = event.clientId ? await worker.clients.get(event.clientId) : undefined;
  const page = client ? new URL(client.url).pathname : SHELL;
  if (page.startsWith(SHELL) || page === RESCUE) return kept(pathname, event.request);
  return fetch(event.request);
}

/**
 * @param {string} file
 * @param {Request} request
 */
async function kept(file, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(file)) ?? fetch(request);
}
