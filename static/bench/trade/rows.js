/**
 * The row: one observation at the bench, as text, exactly as it was recorded.
 *
 * The order of `COLUMNS` is the order of the log on the wire. Every field stays text, except the
 * running number `seq`, so that a figure keeps the decimals the scale showed.
 */

/** @typedef {import('../types.js').Row} Row */
/** @typedef {import('../types.js').Column} Column */

export const FORMAT = '1';

/** @type {Readonly<Row>} */
const EMPTY = Object.freeze({
  format: FORMAT,
  log_id: '',
  seq: 0,
  event_id: '',
  after: '',
  recorded_at: '',
  utc_offset_min: '',
  kind: '',
  cup: '',
  job: '',
  step: '',
  component: '',
  lot: '',
  container: '',
  value: '',
  unit: '',
  typed: '',
  target: '',
  shown: '',
  scale: '',
  person: '',
  refers_to: '',
  note: '',
  system: '',
  app_version: '',
  extra: [],
});

/** @type {ReadonlyArray<Column>} */
export const COLUMNS = Object.freeze(
  /** @type {Column[]} */ (Object.keys(EMPTY).filter((name) => name !== 'extra')),
);

/**
 * What a row may report; unknown kinds are kept all the same.
 * @type {ReadonlySet<string>}
 */
export const KINDS = new Set(
  `cup_started labelled weighed rezeroed scale_restarted lot_used pour_opened mix_started mixed
  divided poured leftover scrapped sampled felt_warm container_opened container_weighed climate
  scale_checked step_started step_done tack_tested part_weighed part_disposed shipped deviation
  note voided aside_settled scraped covered uncovered away setting disposed
  unidentified`.split(/\s+/),
);

/**
 * Kinds whose value must be a number.
 * @type {ReadonlySet<string>}
 */
export const NUMERIC_KINDS = new Set(
  `weighed rezeroed scale_restarted leftover container_weighed climate scale_checked
  part_weighed unidentified`.split(/\s+/),
);

/**
 * A row with every column; those not given are empty.
 * @param {Partial<Row>} [partial]
 * @returns {Row}
 */
export function makeRow(partial = {}) {
  return { ...EMPTY, extra: [], ...partial };
}

/**
 * Index rows by `event_id`; the first of two equal ids stays.
 * @param {Iterable<Row>} rows
 * @returns {Map<string, Row>}
 */
export function byId(rows) {
  /** @type {Map<string, Row>} */
  const index = new Map();
  for (const row of rows) {
    if (!index.has(row.event_id)) index.set(row.event_id, row);
  }
  return index;
}

/**
 * Event ids of the rows that were struck.
 * @param {readonly Row[]} rows
 * @returns {Set<string>}
 */
export function voidedOf(rows) {
  return new Set(rows.filter((row) => row.kind === 'voided').map((row) => row.refers_to));
}
