/** Shapes of the bench itself; those of the trade are in types.d.ts. */
import type {
  Additive, Cloth, Container, Cup, CupType, Job, Lot, ReleaseAgent, Row, ScaleCard, Step, SystemCard,
} from './types.js';

/** What a new row says, before it gets its number, id, time and place in the chain. */
export interface Draft extends Partial<Row> {
  kind: string;
  /** Refer to the row written just before this one in the same transaction. */
  refers_to_previous?: boolean;
  /** Begin the chain of a share of the cup that the division just written divides. */
  begins_share?: boolean;
}

/** What the server has said it holds of this phone's log. */
export interface Holdings {
  server_id: string;
  epoch: string;
  highest: number;
  missing: [number, number][];
  at: string;
  /** Rows the office has to look at: running number -> status. */
  aside: Record<string, string>;
}

export interface PlannedCup {
  code: string;
  job: string;
  step: string;
  system: string;
  total: string;
  cup_type: string;
  cup_mass: string;
  /** code of a paste or filler in its part A, and its share of part A in per cent */
  additive?: string;
  additive_pct?: string;
}

/** A part of a job: what stands behind the code on it. */
export interface Part {
  code: string;
  job: string;
  serial: string;
}

export interface Bundle {
  format: number;
  server_id: string;
  epoch: string;
  demo: boolean;
  systems: (SystemCard & { newest: boolean })[];
  scales: (ScaleCard & { newest: boolean })[];
  cup_types: CupType[];
  lots: Lot[];
  containers: Container[];
  jobs: Job[];
  /** Missing in a bundle of an older server. */
  cloths?: Cloth[];
  release_agents?: ReleaseAgent[];
  additives?: Additive[];
  /** When each scale was checked last, by its code. */
  scale_checks?: Record<string, string>;
  /** Lay-up sheets of the jobs whose part is still in the mould. */
  sheets?: { job: string; steps: Step[] }[];
  /** Rows of no cup: steps of those jobs, and the latest of air and mould. */
  shop_rows?: Row[];
  people: Record<string, string>;
  planned_cups: PlannedCup[];
  open_cups: { code: string; rows: Row[] }[];
  parts: Part[];
  /** Codes of labels printed ahead that are bound to nothing yet. */
  blank_labels: string[];
  /** End of the certificate the server serves with; empty or missing where it has none. */
  certificate_until?: string;
}

/** A log this phone store takes the place of: what the server holds of it, and since when. */
export interface LostLog {
  log_id: string;
  name: string;
  have_upto: number;
  last_contact_at: string;
}

/** Who stands here, at which scale, since when. */
export interface Crew {
  person: string;
  scale: string;
  at: string;
}

/** A cup as this phone knows it: its plan, its rows, and its state. */
export interface KnownCup {
  code: string;
  plan: PlannedCup | null;
  rows: Row[];
  system: SystemCard | null;
  scale: ScaleCard | null;
  cup: Cup | null;
}

/** A figure on a person's screen: what the keypad hands over. */
export interface Answer {
  typed: string;
  confirmed: boolean;
}
