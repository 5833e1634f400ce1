/** What came of the last try to reach the shop. */
import { t } from '../words.js';

/** @param {string} problem */
export function turnWords(problem) {
  /** @type {Record<string, string>} */
  const words = {
    '': t('all well'),
    not_reached: t('the shop was not reached'),
    unknown_answer: t('something else answered, nothing counts as sent'),
    other_server: t('another server answered, nothing counts as sent'),
    records_not_writable: t('the shop cannot write its records now'),
    not_kept: t('the shop did not keep all rows'),
    not_paired: t('the shop does not know this phone: pair it'),
    revoked: t('the office has cut this phone off'),
    other_log: t('the pairing belongs to another log: pair again'),
    too_often: t('the shop asked for a pause; it goes on by itself'),
    failed: t('it failed on this phone'),
  };
  return words[problem] ?? problem;
}
