/**
 * Shapes shared by the modules of the bench. Field names are those of the server, so that what
 * comes as JSON is used as it is. Masses in grams, ratios and errors plain numbers, times RFC 3339
 * in UTC, `null` where a figure is not known.
 */

/** One observation at the bench; every column is text except `seq`. */
export interface Row {
  format: string;
  log_id: string;
  seq: number;
  event_id: string;
  after: string;
  recorded_at: string;
  utc_offset_min: string;
  kind: string;
  cup: string;
  job: string;
  step: string;
  component: string;
  lot: string;
  container: string;
  value: string;
  unit: string;
  typed: string;
  target: string;
  shown: string;
  scale: string;
  person: string;
  refers_to: string;
  note: string;
  system: string;
  app_version: string;
  /** columns a later version added, name and text; kept, never dropped */
  extra: [string, string][];
}

/** Name of a column of the log. */
export type Column = Exclude<keyof Row, 'extra'>;

/** Pot life of the data sheet: minutes, for this mass of mix, at this temperature. */
export interface PotLife {
  minutes: number;
  test_mass_g: number;
  temperature_c: number;
}

/** A time of the data sheet at a temperature. */
export interface TimePoint {
  minutes: number;
  temperature_c: number;
}

/** Air and mould as last measured; null where something was not. */
export interface Air {
  air_c: number | null;
  humidity_pct: number | null;
  mould_c: number | null;
  /** of the oldest of the three; empty if none was measured */
  measured_at: string;
  age_min: number | null;
  air_age_min: number | null;
  mould_age_min: number | null;
  dew_point_c: number | null;
  /** mould above dew point, kelvin */
  margin_k: number | null;
  word: 'go' | 'hold' | 'ask';
}

/**
 * A figure of air or mould that may be taken, or what is wrong with it. `problem` empty: take it.
 * `ask` true: take it only after the person has confirmed that the `proposal` is meant.
 */
export interface ClimateCheck {
  value: string;
  problem: EntryProblem | 'share' | 'fahrenheit' | 'range';
  ask: boolean;
  proposal: string;
}

/** When the next layer bonds by itself, after a coat of this system ended. */
export interface TackWindow {
  opens_min: number;
  closes_min: number;
  temperature_c: number;
}

/** Times from the last pour until the part leaves the mould, and until it has fully cured. */
export interface Cure {
  demould_min: number;
  full_min: number | null;
  temperature_c: number;
}

/** A ratio by volume as the sheet prints it, with the densities that make it one by mass. */
export interface VolumeRatio {
  part_b_pbv: number;
  density_a_g_cm3: number;
  density_b_g_cm3: number;
}

/** One resin with one hardener. A figure that is not on the data sheet is null. */
export interface SystemCard {
  code: string;
  revision: number;
  resin: string;
  hardener: string;
  /** the word a person says for this hardener (SLOW, FAST) */
  hardener_word: string;
  /** parts B per 100 parts A by mass, clean resin */
  part_b_pbw: number;
  tolerance_pct: number;
  largest_cup_g: number;
  filler_fraction_a: number;
  pot_life: PotLife | null;
  mix_min: number | null;
  mixed_density_g_cm3: number | null;
  /** where each figure comes from, field name to source line */
  sources: Record<string, string>;
  /** pot life at further temperatures, for the same test mass; missing on older cards, as below */
  more_pot_life?: PotLife[];
  tack?: TackWindow | null;
  cure?: Cure | null;
  /** coldest the sheet lets one work, degrees Celsius */
  minimum_c?: number | null;
  by_volume?: VolumeRatio | null;
  eew_g_eq?: number | null;
  ahew_g_eq?: number | null;
}

/** One scale: display step, capacity, and the repeatability found when it was checked. */
export interface ScaleCard {
  code: string;
  revision: number;
  /** display step as printed on the scale, grams; its decimals are those of the display */
  readability: string;
  capacity_g: number;
  auto_off_s: number | null;
  repeatability_g: number | null;
}

/** An empty cup as bought: mass, volume and what it is made of. */
export interface CupType {
  code: string;
  revision: number;
  mass_g: number;
  volume_ml: number;
  material: string;
}

/** A maker's production quantity of one material; dates are ISO 8601 days, expiry inclusive. */
export interface Lot {
  code: string;
  revision: number;
  material: string;
  expires_on: string;
  quarantined: boolean;
  /** why it is in quarantine; servers before this field do not send it */
  quarantine_reason?: string;
}

/** Our one opened can of a lot. */
export interface Container {
  code: string;
  revision: number;
  material: string;
  lot: string;
  opened_on: string;
  /** mass of the content when it was opened, and of the empty can, grams */
  content_g?: number | null;
  empty_g?: number | null;
  /** why its lot was changed; the office's alone */
  reason?: string;
}

/** A cloth as bought on the roll; its width without the selvedges. */
export interface Cloth {
  code: string;
  revision: number;
  fibre: string;
  areal_weight_g_m2: number;
  fibre_density_g_cm3: number;
  usable_width_m: number;
}

/** A release agent: how many coats, how long between them and before the lay-up. */
export interface ReleaseAgent {
  code: string;
  revision: number;
  coats: number;
  between_min: number | null;
  last_min: number | null;
  too_old_min: number | null;
}

/** A paste or filler, in per cent of part A, never more than its cap. */
export interface Additive {
  code: string;
  revision: number;
  description: string;
  cap_pct: number;
}

/** What a plan asks for: the code of the paste and its share of part A, %, > 0. */
export interface PlannedAdditive {
  code: string;
  share_pct: number;
  /** most its card allows, % of part A; null where the card is not known */
  cap_pct: number | null;
}

/** Layers of one cloth in a job. */
export interface PlyOrder {
  cloth: string;
  areal_weight_g_m2: number;
  layers: number;
  angle_deg: number;
}

/** What is to be made; figures of the plan the bench does not compute are left out here. */
export interface JobOrder {
  area_m2: number;
  plies: PlyOrder[];
  system: string;
  release_agent: string;
}

/** Work on one part. */
export interface Job {
  code: string;
  revision: number;
  part: string;
  order?: JobOrder | null;
  customer?: string;
}

/** One step of a lay-up sheet; its name is what stands in the log. */
export interface Step {
  name: string;
  kind: 'mould' | 'release' | 'surface_coat' | 'tack' | 'ply' | 'peel_ply' | 'trim' | 'cure' | 'demould';
  /** of the coat or ply, from 1; 0 where there is one only */
  number: number;
  /** code of the system that is laid on or waited for */
  system: string;
  cloth: string;
  angle_deg: number;
  release_agent: string;
}

/** Where a step of a lay-up sheet stands. */
export type StepStateWord = 'locked' | 'waiting' | 'ready' | 'running' | 'done' | 'late';

/** How a layer holds on the one below; empty where nothing says which. */
export type BondWord = '' | 'primary' | 'secondary';

/** From when and until when, RFC 3339; empty where there is no such limit. */
export interface Limits {
  opens_at: string;
  closes_at: string;
  /** the card does not say a figure that is needed */
  missing: boolean;
  /** what `opens_at` was counted at, degrees Celsius; null where it is the sheet's own figure */
  coldest_c: number | null;
  /** the same for `closes_at` */
  warmest_c: number | null;
}

/** A temperature the laminate lay at, 0 to 50 degrees Celsius. */
export interface MouldReading {
  at_ms: number;
  temperature_c: number;
}

/** What the log says became of one step. */
export interface Happened {
  started_at: string;
  done_at: string;
  /** what the screen said of the bond when the step began */
  shown: string;
  tested: string;
  tested_at: string;
  person: string;
  notes: string[];
  /** of the rows that say it began; the first one counts */
  start_ids: string[];
  /** of the row that says it ended */
  done_id: string;
}

/** A step and what became of it; `reason` of a locked one is the name of the step before it. */
export interface StepState {
  step: Step;
  state: StepStateWord;
  reason: string;
  started_at: string;
  done_at: string;
  opens_at: string;
  closes_at: string;
  bond: BondWord;
  person: string;
  notes: string[];
  /** event id of the row that says it is done, or was begun */
  row_id: string;
  coldest_c: number | null;
  warmest_c: number | null;
  /** of cure and demoulding: from when the part has fully cured */
  full_at: string;
}

/** Cards the clocks of a sheet come from. */
export interface SheetCards {
  systems: SystemCard[];
  release_agents: ReleaseAgent[];
}

/** The steps of one job as they stand, the one that is next, and the next moment of a clock. */
export interface Sheet {
  steps: StepState[];
  current: string;
  limit_at: string;
}

/** Masses of the two parts of one cup, grams, unrounded. */
export interface Targets {
  part_a_g: number;
  part_b_g: number;
  total_g: number;
}

/** What brings a cup back to its ratio: the part to add, grams, and the total afterwards. */
export interface TopUp {
  component: 'a' | 'b';
  add_g: number;
  total_g: number;
}

/**
 * One addition: what was poured, how much, and whether it starts on a reading of its own.
 * `unfinished`: the scale was restarted in the middle of it, more of the same is still to come.
 */
export interface Pour {
  component: string;
  net_g: number;
  opens: boolean;
  unfinished: boolean;
}

/** Inside or outside the tolerance, proven by this scale or not. */
export type VerdictWord = 'in' | 'in_unproven' | 'out_unproven' | 'out';

/** A code as a person typed it: the code, or why not, and what may have been meant. */
export interface ScannedCode {
  code: string;
  /** what the label says it stands on; empty where the pattern holds the bare code */
  place: string;
  /** `foreign` or `check`; empty if it is a code of ours */
  problem: string;
}

export interface TypedCode {
  code: string;
  problem: '' | 'length' | 'zero_or_o' | 'character' | 'check';
  proposals: string[];
}

/** Why a typed figure is none. */
export type EntryProblem = '' | 'empty' | 'separators' | 'negative' | 'long' | 'character';

/** A typed figure: its text with a point and ASCII digits, or the problem with it. */
export interface Entry {
  value: string;
  problem: EntryProblem;
}

/** What is known when a reading is checked. */
export interface ReadingOptions {
  /** display reading before this pour, grams, null if there is none */
  before_g?: number | null;
  /** display the pour was asked to stop at, grams, null if not known */
  expected_g?: number | null;
  /** what was to be added, grams, null if not known; a person who pressed tare reads it */
  net_g?: number | null;
  /** lowest and highest display at which nothing is wrong, null where there is no window */
  accept_low_g?: number | null;
  accept_high_g?: number | null;
  /** true for a reading again, which may be lower than the one it replaces */
  again?: boolean;
  /** true once the person has answered the question about a slip */
  confirmed?: boolean;
}

/**
 * A reading that may be taken, or what is wrong with it. `problem` empty: take it. `ask` true:
 * take it only after the person has confirmed that it really stands on the display. `proposal` is
 * the figure that may have been meant.
 */
export interface ReadingCheck {
  value: string;
  problem: EntryProblem | 'ounces' | 'tenfold' | 'decimals' | 'capacity' | 'step' | 'below'
    | 'tared' | 'stick' | 'zero_gross' | 'light' | 'changed';
  ask: boolean;
  proposal: string;
  limit: string;
}

/** Why a container stops the pour. */
export type CanProblemWord = 'wrong_material' | 'lot_unknown' | 'expired' | 'quarantined';

/** Where a cup stands on its way. */
export type CupStateWord =
  | 'started'
  | 'empty_read'
  | 'a_waiting'
  | 'b_open'
  | 'judged'
  | 'mixing'
  | 'mixed'
  | 'in_use'
  | 'unidentified'
  | 'setting'
  | 'closed';

/** What the rows of a cup say of it. */
export type FactWord =
  | 'unidentified'
  | 'empty_cup_read'
  | 'a_weighed'
  | 'hardener_opened'
  | 'both_weighed'
  | 'mix_started'
  | 'mixed'
  | 'poured'
  | 'ended'
  | 'left_to_set'
  | 'cold_and_hard';

/** When something was laid on a waiting cup, or taken off it. */
export interface Cover {
  at: string;
  on: boolean;
}

/** Minutes since part A was read first, since it was read last, and of these uncovered. */
export interface Waiting {
  since_min: number;
  read_min: number;
  uncovered_min: number;
  covered: boolean;
}

/** Why the ratio of a cup is not known; empty if the readings are whole. */
export type UnknownReason =
  | ''
  | 'reading_missing'
  | 'no_first_reading'
  | 'falling_reading'
  | 'restart_without_cup'
  | 'mix_missing'
  | 'divided_unmixed';

/** How a cup ended; empty while it is open. */
export type Ending = '' | 'scrapped' | 'sampled' | 'leftover' | 'divided';

/** What about a cup a person should look at. */
export type Flag =
  'double_fill' | 'hardener_opened_twice' | 'other_scale' | 'start_missing' | 'verdict_changed';

/** The pours of a cup and where the display stands. */
export interface Readings {
  pours: Pour[];
  cup_g: number | null;
  display_g: number | null;
  unknown: UnknownReason;
  /** whether the next pour starts on a reading of its own (after a re-zero) */
  opens: boolean;
  /** the last reading on the base the display has now; empty after a new base */
  last_id: string;
  last_component: string;
}

/** Error, expanded uncertainty and verdict of a cup; all null while its ratio is not known. */
export interface Judgement {
  ratio_error: number | null;
  uncertainty: number | null;
  verdict: VerdictWord | null;
}

/** A container whose content went into the cup. */
export interface LotUse {
  component: string;
  lot: string;
  container: string;
  event_id: string;
  reason: string;
}

/** A step of a job the cup was poured into. */
export interface Use {
  job: string;
  step: string;
  at: string;
}

/** One mix in one labelled cup. */
export interface Cup extends Judgement {
  id: string;
  code: string;
  system: string;
  scale: string;
  person: string;
  job: string;
  step: string;
  started_at: string;
  planned_total_g: number | null;
  state: CupStateWord;
  cup_g: number | null;
  display_g: number | null;
  /** whether the next pour starts on a reading of its own (after a re-zero) */
  opens: boolean;
  pours: Pour[];
  part_a_g: number;
  part_b_g: number;
  total_g: number;
  unknown: UnknownReason;
  corrections: number;
  lots: LotUse[];
  /** first reading of part A, and the last one, which may be it read again */
  a_weighed_at: string;
  a_read_at: string;
  covers: Cover[];
  first_contact_at: string;
  mix_started_at: string;
  /** when it was scraped half way through mixing */
  scraped_at: string;
  mixed_at: string;
  /** reason under which it was called mixed before its time */
  mix_reason: string;
  felt_warm: boolean;
  uses: Use[];
  leftover_g: number | null;
  deviation: string;
  /** reason under which it goes on past its pot life, if one was written */
  pot_life_reason: string;
  ending: Ending;
  /** since when its rest is left to set, and where; empty where nothing was left */
  set_at: string;
  set_where: string;
  disposed_at: string;
  /** label of the cup whose mix it is a share of; empty for a cup of its own */
  share_of: string;
  flags: Flag[];
  /** the last reading of the display, to refer to when it is read again */
  last_reading_id: string;
  last_reading_component: string;
  last_event_id: string;
}

/** Displays, unrounded; the provable limits are null where the scale proves none. */
export interface Window {
  accept_low_g: number;
  accept_high_g: number;
  proven_low_g: number | null;
  proven_high_g: number | null;
}

/** What a person does next. */
export type ActionWord =
  | 'other_scale'
  | 'read_cup'
  | 'pour'
  | 'open_hardener'
  | 'correct'
  | 'scrap'
  | 'mix'
  | 'finish_mixing'
  | 'divide'
  | 'use'
  | 'watch'
  | 'none';

/** What a screen puts into words beside the one instruction. */
export type Caution =
  | 'gloves'
  | 'eyes_covered'
  | 'proves_in_part'
  | 'display_step_only'
  | 'over_largest'
  | 'over_capacity'
  | 'do_not_leave'
  | 'paste_capped'
  | 'paste_over_cap'
  | 'paste_too_late'
  | 'pot_life_amber'
  | 'pot_life_over'
  | 'scrape_now'
  | 'mix_longer'
  | 'waited_uncovered'
  | 'waited_long';

/** Why no correction may be offered any more. */
export type CorrectionEnd =
  '' | 'felt_warm' | 'two_corrections' | 'mixed' | 'mixing_too_long' | 'pot_life_third';

/** One instruction. Displays and masses in grams, unrounded; null where they do not apply. */
export interface Advice {
  action: ActionWord;
  /** `a`, `b` or the code of a paste */
  component: string;
  add_g: number | null;
  display_stop_g: number | null;
  /** highest display within the largest cup, for part A before B; for a paste within its cap */
  display_limit_g: number | null;
  window: Window | null;
  /** all the cup then holds; before part A is poured the planned total, A and B alone */
  total_g: number | null;
  smallest_cup_g: number | null;
  /** why only scrapping is left or this scale cannot be used; with `none` how the cup ended */
  reason: CorrectionEnd | UnknownReason | Ending | 'scale_too_coarse' | 'over_capacity' | 'part_missing' | 'unidentified';
  cautions: Caution[];
}

/** A cup that has not ended: its code, and what it weighs in all; null if not on record. */
export interface OpenCup {
  code: string;
  gross_g: number | null;
}

/** A cup a smeared label may stand on. */
export interface Candidate {
  code: string;
  /** every letter that is left is the same; else a look-alike stands in its place */
  exact: boolean;
  weight: 'fits' | 'off' | 'unknown';
}

/** What is known of a cup nobody can name. */
export interface Unidentified {
  code: string;
  state: CupStateWord;
  gross_g: number | null;
  /** letters left of its label, `?` for those that are gone */
  letters: string;
  found_at: string;
  person: string;
  ending: Ending;
  set_at: string;
  set_where: string;
  disposed_at: string;
}

/** How a clock stands to its limit; `open`: what was waited for may be done. */
export type TempoWord = 'running' | 'soon' | 'over' | 'open';

/** One clock; times RFC 3339, empty where there is none. */
export interface Clock {
  kind: string;
  /** code of the cup, name of the step, code of scale or lot */
  about: string;
  /** of a step */
  job: string;
  since: string;
  /** the next limit; empty where no figure makes one */
  next_at: string;
  tempo: TempoWord;
}
