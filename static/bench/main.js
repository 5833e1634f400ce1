/** The bench: wires the log, the sync, the worker and the screens together. */
import { refresh, cupLabelled } from './cups.js';
import { facts, keepFacts } from './log/bench-log.js';
import { onBlocked } from './log/store.js';
import { el } from './parts/el.js';
import { banner } from './parts/notice.js';
import { appVersion, changes } from './record.js';
import { canChoice } from './screens/cans.js';
import { faultScreen } from './screens/stops.js';
import { crewScreen } from './screens/crew.js';
import { keep } from './screens/keep.js';
import { foundScreen } from './screens/found.js';
import { nextCupsScreen } from './screens/next-cups.js';
import { phoneScreen } from './screens/phone.js';
import { scanScreen } from './screens/scan.js';
import { scrapScreen } from './screens/scrap.js';
import { startScreen } from './screens/start.js';
import { storyScreen } from './screens/story.js';
import { typeScreen } from './screens/type-code.js';
import { prepare, weighScreen } from './screens/weigh.js';
import { keepInSync, sync, turns } from './sync.js';
import { speak, t } from './words.js';
import { watchWorker } from './update.js';
import { stayAwake } from './wake.js';

/** @param {string} code */
async function scrap(code) {
  const known = cupLabelled(code);
  if (!known || known.rows.length === 0) return nextCupsScreen();
  return scrapScreen(code, (reason) => keep(known, [{ kind: 'scrapped', note: reason }]), known);
}

/** @param {string} code */
async function chooseCan(code) {
  const known = cupLabelled(code);
  const weighing = known && prepare(known, '');
  return weighing ? canChoice(weighing) : weighScreen(code);
}

/** Draw the screen of the address; a fault of one screen must not leave a dead page. */
async function show() {
  try {
    await screenOfAddress();
  } catch (error) {
    console.error(error);
    faultScreen();
  }
}

async function screenOfAddress() {
  const [name = '', ...rest] = location.hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  stayAwake(['weigh', 'cans', 'scan'].includes(name));
  switch (name) {
    case 'weigh':
      return weighScreen(rest[0] ?? '');
    case 'cans':
      return chooseCan(rest[1] ?? '');
    case 'story':
      return storyScreen(rest[0] ?? '');
    case 'scrap':
      return scrap(rest[0] ?? '');
    case 'crew':
      return crewScreen(rest.join('/'));
    case 'phone':
      return phoneScreen();
    case 'start':
      return startScreen(rest[0] ?? '');
    case 'scan':
      return scanScreen(rest);
    case 'type':
      return typeScreen(rest);
    case 'found':
      return foundScreen(rest[0] ?? '', rest[1] ?? '');
    default:
      return nextCupsScreen();
  }
}

/** A screen that lists things follows the log; one that is being worked on is left alone. */
function follow() {
  const name = location.hash.replace(/^#\/?/, '').split('/')[0];
  if (name === '' || name === 'phone') void show();
}

async function start() {
  onBlocked(() => banner(t('Close the other window of this app, then go on.')));
  const { language } = await facts('language');
  const offered = JSON.parse(document.getElementById('languages')?.textContent ?? '{}');
  const spoken = navigator.languages.map((tag) => tag.split('-')[0]).find((code) => code in offered);
  await speak(language ?? spoken ?? 'en').catch(() => {});
  window.addEventListener('hashchange', () => void show());
  changes.addEventListener('change', follow);
  changes.addEventListener('written', () => void sync(appVersion));
  turns.addEventListener('turn', async () => {
    await refresh();
    follow();
  });
  // Sending and updating go on whatever a screen does.
  await refresh().then(show, faultScreen);
  document.documentElement.dataset.started = 'yes';
  keepInSync(appVersion);
  watchWorker((reload) => {
    banner(t('A new version is here.'), [
      el('button', { type: 'button', onclick: reload }, t('Reload')),
      el('button', { type: 'button', onclick: () => banner('') }, t('Later')),
    ]);
  });
  await askToPersist();
}

async function askToPersist() {
  const persisted = await navigator.storage?.persist?.();
  await keepFacts({ persisted: persisted ?? false });
}

void start();
