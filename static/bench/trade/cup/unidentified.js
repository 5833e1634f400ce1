/**
 * A cup nobody can name: its label cannot be read, and it fits no cup that is known.
 *
 * It goes into no part, draws from no can (the cup it once was has its own rows), and comes to an
 * end as any other cup does.
 */
import { inOrder, label } from '../chain.js';
import { OutOfRange } from '../errors.js';
import { voidedOf } from '../rows.js';
import { endingOf, firstAt, numberOf, settingOf } from './history.js';
import { Fact, reached } from './progress.js';

/** @typedef {import('../../types.js').Ending} Ending */
/** @typedef {import('../../types.js').FactWord} FactWord */
/** @typedef {import('../../types.js').Row} Row */
/** @typedef {import('../../types.js').Unidentified} Unidentified */

/**
 * State of an unidentified cup.
 * @param {Iterable<Row>} rows every row of one cup, any order
 * @returns {Unidentified | null} null for a cup that is known, or was found to be after all
 * @throws {OutOfRange} there is no row
 */
export function foldUnidentified(rows) {
  const ordered = inOrder(rows);
  if (ordered.length === 0) throw new OutOfRange('rows', 0, 'at least the row that started the cup');
  const voided = voidedOf(ordered);
  const standing = ordered.filter((row) => !voided.has(row.event_id));
  const found = standing.find((row) => row.kind === 'unidentified');
  if (!found) return null;
  const ending = endingOf(standing);
  const setting = settingOf(standing);
  const disposedAt = firstAt(standing, 'disposed');
  /** @type {FactWord[]} */
  const facts = [Fact.UNIDENTIFIED];
  if (ending) facts.push(Fact.ENDED);
  if (setting) facts.push(Fact.LEFT_TO_SET);
  if (disposedAt) facts.push(Fact.COLD_AND_HARD);
  return {
    code: label(ordered),
    state: reached(facts),
    gross_g: numberOf(found.value),
    letters: found.target,
    found_at: found.recorded_at,
    person: found.person,
    ending: /** @type {Ending} */ (ending?.kind ?? ''),
    set_at: setting?.recorded_at ?? '',
    set_where: setting?.note ?? '',
    disposed_at: disposedAt,
  };
}
