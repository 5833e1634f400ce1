/** What a person does at a step of the lay-up sheet, written so that it stays true. */
import { button } from '../parts/el.js';
import { ask } from '../parts/notice.js';
import { stopShape } from '../parts/stop-shape.js';
import { crewIsFresh } from '../record.js';
import { airNow } from '../shop-rows.js';
import { LAID_ON, lastRowOf, sheetOf, stepOf, writeStep } from '../sheets.js';
import { stepWords } from '../step-words.js';
import { t } from '../words.js';
import { go } from './frame.js';
import { questions } from './step-air.js';

/** @typedef {import('../shapes.js').Draft} Draft */
/** @typedef {import('../sheets.js').KnownSheet} KnownSheet */
/** @typedef {import('../types.js').StepState} StepState */
/** @typedef {{sheet: KnownSheet, state: StepState, again: () => void}} At  a step on the screen */

/**
 * A button that writes rows about a step, if it still stands as the person saw it.
 * @param {string} name  class
 * @param {string} text
 * @param {At} at
 * @param {() => Promise<Draft[]> | Draft[]} make  no rows: nothing is written
 * @param {boolean} [named]  whether the rows say themselves who did it
 */
export function act(name, text, at, make, named = false) {
  return button(name, text, async () => {
    if (!named && !crewIsFresh()) return go(['crew', 'step', at.sheet.job, at.state.step.name].map(encodeURIComponent).join('/'));
    if (await hasMoved(at)) return at.again();
    const drafts = await make();
    // The clock went on while a question stood on the screen.
    if (drafts.length === 0) return;
    if (!(await hasMoved(at))) await kept(at, drafts);
    at.again();
  });
}

/** @param {At} at */
async function hasMoved({ sheet, state }) {
  const found = sheetOf(sheet.job);
  const now = found && stepOf(found, state.step.name);
  const same = now && now.state === state.state && now.bond === state.bond && now.started_at === state.started_at && now.done_at === state.done_at;
  if (same) return false;
  await ask({
    title: t('This step has changed'),
    lines: [t('A clock ran out, or somebody wrote to this step. Look at it again.')],
    answers: [{ text: t('Look again'), value: '' }],
  });
  return true;
}

/** @param {At} at  @param {Draft[]} drafts */
async function kept({ sheet, state }, drafts) {
  try {
    await writeStep(sheet, state, drafts);
  } catch (error) {
    console.error(error);
    await ask({
      kind: 'stop',
      title: t('Not saved'),
      lines: [t('The phone could not save this step. Write it down, then share the log from This phone.')],
      answers: [{ text: t('Look again'), value: '' }],
    });
  }
}

/**
 * Rows that begin a step; none where the person did not go on. The row names what it follows, so
 * that a clock that is wrong does not open a step anew that somebody else has ended.
 * @param {At} at
 * @param {string} [note]
 * @returns {Promise<Draft[]>}
 */
export async function started({ sheet, state }, note = '') {
  const begin = { kind: 'step_started', shown: state.bond, target: state.closes_at, note, refers_to: followed(sheet, state) };
  if (!LAID_ON.has(state.step.kind)) return [begin];
  const air = airNow();
  const reasons = [];
  for (const question of questions(air, state)) {
    const { value, reason } = await question();
    if (value === 'measure') go('air');
    if (value !== 'go') return [];
    reasons.push(reason);
  }
  if (reasons.length === 0) return [begin];
  return [begin, { kind: 'deviation', note: reasons.join(' · '), refers_to_previous: true, shown: air.word }];
}

/**
 * The row that ends a step; it names the start it ends, whatever the clocks of two phones say.
 * @param {At} at
 * @returns {Draft}
 */
export function ended({ state }) {
  return { kind: 'step_done', refers_to: state.state === 'running' ? state.row_id : '' };
}

/** @param {KnownSheet} sheet  @param {StepState} state */
function followed({ steps }, state) {
  return steps.slice(0, steps.indexOf(state)).findLast(({ row_id }) => row_id)?.row_id ?? '';
}

/**
 * Rows of a step that is not open yet, or not any more, with a written reason.
 * @param {At} at
 * @param {(note?: string) => Promise<Draft[]> | Draft[]} make
 * @returns {Promise<Draft[]>}
 */
export async function against({ state }, make) {
  const { value, reason } = await ask({
    kind: 'stop',
    shape: stopShape(),
    ...againstWords(state),
    reason: t('Reason'),
    answers: [
      { text: t('Wait'), value: false },
      { text: t('Go on for this reason'), value: true, main: true },
    ],
  });
  if (!value) return [];
  const [first, other] = await make();
  if (!first) return [];
  // One row is gone on against; what is said against it stands in one row, too.
  const note = [reason, other?.note].filter(Boolean).join(' · ');
  return [first, { kind: 'deviation', refers_to_previous: true, shown: other?.shown ?? '', note }];
}

/** @param {StepState} state */
function againstWords({ reason, step }) {
  const recorded = t('The reason is recorded with your name.');
  if (reason === 'not_wet') {
    return { title: t('On resin that has set?'), lines: [t('It does not wet the peel ply out any more. The data sheet decides.'), recorded] };
  }
  if (reason === 'clock_unsure') {
    return { title: t('By a clock that is wrong?'), lines: [t('Whether the layer below still bonds by itself is not known. The data sheet decides.'), recorded] };
  }
  const words = t('The clock of “%(step)s” has not run out. The data sheet decides.', { step: stepWords(step.name) });
  return { title: t('Before its time?'), lines: [words, recorded] };
}

/**
 * Strike what was written last at a step.
 * @param {At} at
 * @param {string} name  of the step
 * @returns {Promise<Draft[]>}
 */
export async function takenBack({ sheet }, name) {
  const row = lastRowOf(sheet, name);
  if (!row) return [];
  const { value, reason } = await ask({
    title: t('Take it back?'),
    lines: [t('What was written last at “%(step)s” stays in the log, struck.', { step: stepWords(name) })],
    reason: t('Reason'),
    answers: [
      { text: t('No'), value: false },
      { text: t('Take it back'), value: true, main: true },
    ],
  });
  return value ? [{ kind: 'voided', refers_to: row.event_id, note: reason }] : [];
}
