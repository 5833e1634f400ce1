/** This phone store took the place of another one: said loudly, until somebody has read it. */
import { facts, keepFacts } from '../log/bench-log.js';
import { ask } from '../parts/notice.js';
import { stopShape } from '../parts/stop-shape.js';
import { dateAndTime, figure, t } from '../words.js';

/** Say it if there is something to say; resolves when it was tapped away. */
export async function sayLostLog() {
  const { lost_log: lost } = await facts('lost_log');
  if (!lost || document.querySelector('dialog[open]')) return;
  const contact = lost.last_contact_at ? dateAndTime(lost.last_contact_at) : t('never');
  await ask({
    kind: 'stop',
    shape: stopShape(),
    title: t('The old log is not here'),
    lines: [
      t('The store of this phone is new, or the old one was lost. A new log takes the place of “%(name)s”.', { name: lost.name || lost.log_id.slice(0, 8) }),
      lost.have_upto > 0
        ? t('Rows after %(number)s of the old log may be missing.', { number: figure(String(lost.have_upto)) })
        : t('No row of the old log has reached the shop: all of them may be missing.'),
      t('The shop last heard of it: %(moment)s', { moment: contact }),
      t('Is the old phone or the old app still there? Share its log from there and import the file in the office.'),
    ],
    answers: [{ text: t('I have read this'), value: '', main: true }],
  });
  await keepFacts({ lost_log: undefined });
}
