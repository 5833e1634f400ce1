/** Before anything is weighed: is this a place for it? */
import { ask } from '../parts/notice.js';
import { stopShape } from '../parts/stop-shape.js';
import { acceptTab, isInstalled, isLoopback, placeHere } from '../place.js';
import { t } from '../words.js';
import { goInstead, stayingHere } from './frame.js';

/** Screens that write rows or lead to it; the others only show. */
const WEIGHING = new Set([
  ...['weigh', 'cans', 'scrap', 'crew', 'start', 'scan', 'type', 'found', 'pair', 'measure'],
  ...['step', 'poured', 'leftover', 'strike', 'restarted', 'resume', 'smeared', 'unidentified'],
]);

/**
 * Whether a screen may be drawn here; if not, something else has been put in its place.
 * @param {string} name  of the screen
 * @param {() => void} again  draws the screen of the address
 */
export async function admits(name, again) {
  if (!WEIGHING.has(name) || isInstalled() || isLoopback(location.hostname)) return true;
  const stillHere = stayingHere();
  const { ruling } = await placeHere();
  if (!stillHere()) return false;
  if (ruling === 'look') goInstead('install');
  // Not waited for: sending goes on while the question is open.
  if (ruling === 'warn') void warn(again);
  return ruling === 'weigh';
}

/** @param {() => void} again */
async function warn(again) {
  if (document.querySelector('dialog[open]')) return;
  const { value } = await ask({
    kind: 'stop',
    shape: stopShape(),
    title: t('Only a browser tab'),
    lines: [
      t('Whoever clears the data of this browser clears what was weighed here and not sent yet.'),
      t('It is safer as an app on the home screen.'),
    ],
    answers: [
      { text: t('Weigh in this tab all the same'), value: 'weigh' },
      { text: t('Install the app'), value: 'install', main: true },
    ],
  });
  if (value === 'install') return goInstead('install');
  await acceptTab();
  again();
}
