/** The bench: wires the log, the sync, the worker and the screens together. */
/** @typedef {import('./shapes.js').KnownCup} KnownCup */
import { refresh, cupLabelled } from './cups.js';
import { facts } from './log/bench-log.js';
import { offers } from './install-offer.js';
import { watchClocks } from './alarms.js';
import { keepBeating, lookBack } from './heartbeat.js';
import { onBlocked } from './log/store.js';
import { el } from './parts/el.js';
import { banner } from './parts/notice.js';
import { askToPersist } from './place.js';
import { appVersion, changes } from './record.js';
import { airScreen } from './screens/air.js';
import { canChoice } from './screens/cans.js';
import { faultScreen } from './screens/stops.js';
import { crewScreen } from './screens/crew.js';
import { dividedScreen } from './screens/divide.js';
import { alarmText, sayDue } from './screens/alarm.js';
import { clocksScreen } from './screens/clocks.js';
import { foundScreen } from './screens/found.js';
import { admits } from './screens/gate.js';
import { installScreen } from './screens/install.js';
import { applySettings } from './screens/settings.js';
import { sayLostLog } from './screens/lost-log.js';
import { leftoverScreen } from './screens/leftover.js';
import { measureScreen } from './screens/measure.js';
import { nextCupsScreen } from './screens/next-cups.js';
import { pairScreen } from './screens/pair.js';
import { phoneScreen } from './screens/phone.js';
import { pouredScreen } from './screens/poured.js';
import { restartedScreen } from './screens/restarted.js';
import { resumeScreen } from './screens/resume.js';
import { scanScreen } from './screens/scan.js';
import { scrapScreen } from './screens/scrap.js';
import { smearedScreen } from './screens/smeared.js';
import { sheetScreen, sheetsScreen } from './screens/sheets.js';
import { startScreen } from './screens/start.js';
import { stepScreen } from './screens/step.js';
import { storyScreen } from './screens/story.js';
import { strikeScreen } from './screens/strike.js';
import { typeScreen } from './screens/type-code.js';
import { unidentifiedScreen } from './screens/unidentified.js';
import { notSecureScreen, notTrustedScreen } from './screens/untrusted.js';
import { prepare, weighScreen } from './screens/weigh.js';
import { keepInSync, sync, turns } from './sync.js';
import { speak, t } from './words.js';
import { NotTrusted, watchWorker } from './update.js';
import { stayAwake } from './wake.js';

/**
 * @param {string} component
 * @param {string} code
 */
async function chooseCan(component, code) {
  const known = cupLabelled(code);
  const weighing = known && prepare(known, '');
  return weighing ? canChoice(weighing, component) : weighScreen(code);
}

/**
 * A stop no address of the app leads around; null while there is none.
 * @type {(() => void) | null}
 */
let barred = null;

/** @param {() => void} stop */
function bar(stop) {
  barred = stop;
  stop();
}

/**
 * Limits that are due and not silenced.
 * @type {import('./types.js').Clock[]}
 */
let dueNow = [];

/** Draw the screen of the address; a fault of one screen must not leave a dead page. */
async function show() {
  if (barred) return barred();
  try {
    await screenOfAddress();
  } catch (error) {
    console.error(error);
    faultScreen();
  }
}

async function screenOfAddress() {
  const [name = '', ...rest] = location.hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  stayAwake(['weigh', 'cans', 'scan', 'divided', 'leftover', 'restarted', 'resume'].includes(name));
  if (!(await admits(name, () => void show()))) return;
  switch (name) {
    case 'weigh':
      return weighScreen(rest[0] ?? '');
    case 'cans':
      return chooseCan(rest[0] ?? 'a', rest[1] ?? '');
    case 'story':
      return storyScreen(rest[0] ?? '');
    case 'scrap':
      return scrapScreen(rest[0] ?? '');
    case 'strike':
      return strikeScreen(rest[0] ?? '');
    case 'clocks':
      return clocksScreen();
    case 'smeared':
      return smearedScreen();
    case 'unidentified':
      return unidentifiedScreen(rest[0] ?? '');
    case 'resume':
      return resumeScreen(rest[0] ?? '');
    case 'restarted':
      return restartedScreen(rest[0] ?? '');
    case 'divided':
      return dividedScreen(rest[0] ?? '');
    case 'leftover':
      return leftoverScreen(rest[0] ?? '');
    case 'air':
      return airScreen();
    case 'measure':
      return measureScreen();
    case 'crew':
      return crewScreen(rest.map(encodeURIComponent).join('/'));
    case 'sheets':
      return sheetsScreen();
    case 'sheet':
      return sheetScreen(rest[0] ?? '');
    case 'step':
      return stepScreen(rest[0] ?? '', rest[1] ?? '');
    case 'poured':
      return pouredScreen(rest[0] ?? '');
    case 'phone':
      return phoneScreen();
    case 'start':
      return startScreen(rest[0] ?? '');
    case 'scan':
      return scanScreen(rest);
    case 'type':
      return typeScreen(rest);
    case 'pair':
      return pairScreen();
    case 'install':
      return installScreen();
    case 'found':
      return foundScreen(rest[0] ?? '', rest[1] ?? '');
    default:
      return nextCupsScreen();
  }
}

/**
 * A screen that lists things follows the log; one that is being worked on is left alone.
 * @param {string[]} [names]  screens that follow
 */
function follow(names = ['', 'phone', 'sheets', 'sheet']) {
  const name = location.hash.replace(/^#\/?/, '').split('/')[0];
  if (names.includes(name)) void show();
}

/** @param {string} [chosen]  the language said on this phone */
async function speakChosen(chosen) {
  const offered = JSON.parse(document.getElementById('languages')?.textContent ?? '{}');
  const spoken = navigator.languages.map((tag) => tag.split('-')[0]).find((code) => code in offered);
  await speak(chosen ?? spoken ?? 'en').catch(() => {});
}

function markStarted() {
  document.documentElement.dataset.started = 'yes';
}

async function start() {
  if (!isSecureContext) {
    await speakChosen();
    bar(notSecureScreen);
    return markStarted();
  }
  onBlocked(() => banner(t('Close the other window of this app, then go on.')));
  await speakChosen((await facts('language')).language);
  window.addEventListener('hashchange', () => {
    sayDue(dueNow);
    void show();
  });
  changes.addEventListener('change', () => follow());
  changes.addEventListener('written', () => void sync(appVersion));
  offers.addEventListener('change', () => follow(['install']));
  turns.addEventListener('turn', async () => {
    await refresh();
    follow();
  });
  await applySettings();
  // Sending and updating go on whatever a screen does.
  await refresh().then(() => lookBack(resume)).then(show, faultScreen);
  markStarted();
  keepInSync(appVersion);
  keepBeating(resume);
  watchClocks((due) => {
    dueNow = due;
    sayDue(due);
  }, alarmText);
  void sayLostLog();
  await watchUpdates();
  await askToPersist();
  follow(['', 'phone', 'install']);
}

/** The app was away in the middle of a cup: that comes first. @param {KnownCup} known */
function resume({ code }) {
  location.replace(`#/resume/${code}`);
}

async function watchUpdates() {
  try {
    await watchWorker((reload) => {
      banner(t('A new version is here.'), [
        el('button', { type: 'button', onclick: reload }, t('Reload')),
        el('button', { type: 'button', onclick: () => banner('') }, t('Later')),
      ]);
    });
  } catch (error) {
    if (error instanceof NotTrusted) return bar(notTrustedScreen);
    // No worker this time: the next start tries again.
    console.error(error);
  }
}

void start();
