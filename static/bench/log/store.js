/**
 * The phone's own store: the only place that opens IndexedDB.
 *
 * `rows` holds the bench log, one record per running number; `facts` holds everything else under
 * a name (log id, settings, bundle, codes, what the server holds). The log id is made together
 * with the store, so a wiped store can never continue an old log.
 */

const NAME = 'companion-bench';
const VERSION = 1;
const OPEN_WITHIN_MS = 3000;

export const ROWS = 'rows';
export const FACTS = 'facts';

/** The store cannot be opened or written; the message is for people. */
export class StoreError extends Error {}

/** @type {Promise<IDBDatabase> | null} */
let opening = null;
/** @type {() => void} */
let whenBlocked = () => {};

/**
 * Say what to do when another window holds an older store open.
 * @param {() => void} callback
 */
export function onBlocked(callback) {
  whenBlocked = callback;
}

/** @returns {Promise<IDBDatabase>} */
function open() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION);
    // Some browsers never answer the first open after a start.
    const watchdog = setTimeout(() => reject(new StoreError('open')), OPEN_WITHIN_MS);
    request.onupgradeneeded = () => upgrade(request.result);
    request.onblocked = () => whenBlocked();
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      clearTimeout(watchdog);
      const database = request.result;
      database.onversionchange = () => forget(database);
      database.onclose = () => forget(database);
      resolve(database);
    };
  });
  opening.catch(() => {
    opening = null;
  });
  return opening;
}

/** @param {IDBDatabase} database */
function forget(database) {
  database.close();
  opening = null;
}

/** @param {IDBDatabase} database */
function upgrade(database) {
  const rows = database.createObjectStore(ROWS, { keyPath: 'seq' });
  rows.createIndex('cup', 'cup');
  rows.createIndex('event_id', 'event_id', { unique: true });
  const facts = database.createObjectStore(FACTS, { keyPath: 'name' });
  facts.put({ name: 'log_id', value: crypto.randomUUID() });
}

/**
 * Run one transaction; settles when it is complete on disk, rejects on error and on abort.
 * Nothing but requests of this transaction may be awaited inside.
 * @template T
 * @param {IDBTransactionMode} mode
 * @param {(transaction: IDBTransaction) => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function transact(mode, work) {
  try {
    return await attempt(mode, work);
  } catch (error) {
    // A browser may close the store behind our back while the page sleeps: open it anew, once.
    const stale = error instanceof DOMException && /InvalidState|Unknown/.test(error.name);
    if (!stale && !(error instanceof StoreError && error.message === 'open')) throw error;
    opening = null;
    return attempt(mode, work);
  }
}

/**
 * @template T
 * @param {IDBTransactionMode} mode
 * @param {(transaction: IDBTransaction) => Promise<T>} work
 * @returns {Promise<T>}
 */
async function attempt(mode, work) {
  const database = await open();
  const transaction = database.transaction([ROWS, FACTS], mode, { durability: 'strict' });
  const settled = new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve(undefined);
    transaction.onerror = (event) => reject(reasonOf(transaction, event));
    transaction.onabort = () => reject(transaction.error ?? new StoreError('abort'));
  });
  settled.catch(() => {});
  try {
    const result = await work(transaction);
    await settled;
    return result;
  } catch (error) {
    try {
      transaction.abort();
    } catch {
      // Already over: the first error is the one that tells.
    }
    throw error;
  }
}

/**
 * A failing request speaks before its transaction has a reason of its own.
 * @param {IDBTransaction} transaction
 * @param {Event} event
 */
function reasonOf(transaction, event) {
  const { error } = /** @type {IDBRequest} */ (event.target);
  return transaction.error ?? error ?? new StoreError('request');
}

/**
 * Promise of a request.
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
export function done(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/**
 * Value of a fact inside a running transaction.
 * @param {IDBTransaction} transaction
 * @param {string} name
 * @returns {Promise<any>}
 */
export async function fact(transaction, name) {
  return (await done(transaction.objectStore(FACTS).get(name)))?.value;
}

/**
 * Set a fact inside a running transaction.
 * @param {IDBTransaction} transaction
 * @param {string} name
 * @param {unknown} value
 */
export function setFact(transaction, name, value) {
  transaction.objectStore(FACTS).put({ name, value });
}
