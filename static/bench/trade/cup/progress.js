/**
 * The one table of how a cup gets from state to state.
 *
 * The rows of a cup come down to facts; taken in the order of `Fact`, each moves the cup on where
 * the table has a move for it. A row that makes no sense where it stands moves the cup all the
 * same: what was done is done, and whether the cup may be used is asked elsewhere (`cupUsable`).
 */

/** @typedef {import('../../types.js').CupStateWord} CupStateWord */
/** @typedef {import('../../types.js').FactWord} FactWord */

/** Where a cup stands on its way. */
export const CupState = Object.freeze({
  STARTED: /** @type {const} */ ('started'),
  EMPTY_READ: /** @type {const} */ ('empty_read'),
  A_WAITING: /** @type {const} */ ('a_waiting'),
  B_OPEN: /** @type {const} */ ('b_open'),
  JUDGED: /** @type {const} */ ('judged'),
  MIXING: /** @type {const} */ ('mixing'),
  MIXED: /** @type {const} */ ('mixed'),
  IN_USE: /** @type {const} */ ('in_use'),
  /** Nobody can say which cup it is; it goes into no part. */
  UNIDENTIFIED: /** @type {const} */ ('unidentified'),
  /** It came to its end with hardener in it, and is watched until cold and hard. */
  SETTING: /** @type {const} */ ('setting'),
  CLOSED: /** @type {const} */ ('closed'),
});

/** What the rows of a cup say of it, in the order in which the facts are taken. */
export const Fact = Object.freeze({
  UNIDENTIFIED: /** @type {const} */ ('unidentified'),
  EMPTY_CUP_READ: /** @type {const} */ ('empty_cup_read'),
  A_WEIGHED: /** @type {const} */ ('a_weighed'),
  HARDENER_OPENED: /** @type {const} */ ('hardener_opened'),
  BOTH_WEIGHED: /** @type {const} */ ('both_weighed'),
  MIX_STARTED: /** @type {const} */ ('mix_started'),
  MIXED: /** @type {const} */ ('mixed'),
  POURED: /** @type {const} */ ('poured'),
  ENDED: /** @type {const} */ ('ended'),
  LEFT_TO_SET: /** @type {const} */ ('left_to_set'),
  COLD_AND_HARD: /** @type {const} */ ('cold_and_hard'),
});

/** @type {readonly CupStateWord[]} */
const ON_THE_SCALE = ['started', 'empty_read', 'a_waiting', 'b_open', 'judged'];

/**
 * States that have a name together; a move from one of them starts in each of its states.
 * @type {Readonly<Record<string, readonly CupStateWord[]>>}
 */
export const GROUPS = Object.freeze({
  on_the_scale: ON_THE_SCALE,
  open: [...ON_THE_SCALE, 'mixing', 'mixed', 'in_use', 'unidentified'],
});

/**
 * From a state, or any of a group, by a fact, to a state.
 * @type {ReadonlyArray<readonly [string, FactWord, CupStateWord]>}
 */
export const MOVES = Object.freeze([
  ['started', 'unidentified', 'unidentified'],
  ['started', 'empty_cup_read', 'empty_read'],
  ['started', 'a_weighed', 'a_waiting'],
  ['empty_read', 'a_weighed', 'a_waiting'],
  ['started', 'hardener_opened', 'b_open'],
  ['empty_read', 'hardener_opened', 'b_open'],
  ['a_waiting', 'hardener_opened', 'b_open'],
  ['b_open', 'both_weighed', 'judged'],
  ['on_the_scale', 'mix_started', 'mixing'],
  // A share of a divided mix was mixed before it was a cup.
  ['on_the_scale', 'mixed', 'mixed'],
  ['mixing', 'mixed', 'mixed'],
  ['on_the_scale', 'poured', 'in_use'],
  ['mixing', 'poured', 'in_use'],
  ['mixed', 'poured', 'in_use'],
  ['open', 'ended', 'closed'],
  ['closed', 'left_to_set', 'setting'],
  ['setting', 'cold_and_hard', 'closed'],
]);

/** @type {ReadonlyMap<string, CupStateWord>} */
const TABLE = new Map(
  MOVES.flatMap(([start, fact, end]) =>
    (GROUPS[start] ?? [start]).map((from) => /** @type {const} */ ([`${from} ${fact}`, end])),
  ),
);

/**
 * State of a cup of which these facts hold.
 * @param {Iterable<FactWord>} facts
 * @returns {CupStateWord}
 */
export function reached(facts) {
  const holding = new Set(facts);
  /** @type {CupStateWord} */
  let state = CupState.STARTED;
  for (const fact of Object.values(Fact)) {
    if (holding.has(fact)) state = TABLE.get(`${state} ${fact}`) ?? state;
  }
  return state;
}
