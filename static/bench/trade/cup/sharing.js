/**
 * A share of a divided mix: a cup of its own, with the verdict and the clocks of the mix.
 *
 * A mix over the largest cup is divided after it was mixed. What was poured was poured in the cup
 * that was divided; counted again in each share it would be mass that nobody poured.
 */
import { Fact, reached } from './progress.js';

/** @typedef {import('../../types.js').Cup} Cup */
/** @typedef {import('../../types.js').FactWord} FactWord */
/** @typedef {import('../../types.js').Row} Row */

/** @type {ReadonlySet<FactWord>} */
const LATER = new Set([Fact.POURED, Fact.ENDED, Fact.LEFT_TO_SET, Fact.COLD_AND_HARD]);

/**
 * Whether a cup was started as a share: its first row refers to the division of another.
 * @param {Row} start
 */
export function isShare(start) {
  return start.kind === 'cup_started' && start.refers_to !== '';
}

/**
 * Give a share what it has of its mix.
 * @param {Cup} cup folded from its own rows
 * @param {readonly FactWord[]} facts what these rows say of it
 * @param {Cup | null} mix the cup that was divided; without it, or if it was not, nothing is known
 *   of the mix
 * @returns {Cup}
 */
export function share(cup, facts, mix) {
  const later = facts.filter((fact) => LATER.has(fact));
  /** @type {Cup} */
  const own = {
    ...cup,
    // Whatever was read beside it is no pour of this mix.
    pours: [],
    part_a_g: 0.0,
    part_b_g: 0.0,
    total_g: 0.0,
    ratio_error: null,
    uncertainty: null,
    verdict: null,
    corrections: 0,
    unknown: 'mix_missing',
    state: reached(later),
  };
  if (mix === null || mix.ending !== 'divided') return own;
  // Divided before it was mixed: nobody can say which share holds how much hardener.
  if (!mix.mixed_at) return { ...own, unknown: 'divided_unmixed' };
  return {
    ...own,
    state: reached([...later, Fact.MIXED]),
    ratio_error: mix.ratio_error,
    uncertainty: mix.uncertainty,
    verdict: mix.verdict,
    unknown: mix.unknown,
    corrections: mix.corrections,
    first_contact_at: mix.first_contact_at,
    mix_started_at: mix.mix_started_at,
    scraped_at: mix.scraped_at,
    mixed_at: mix.mixed_at,
    mix_reason: mix.mix_reason,
    felt_warm: cup.felt_warm || mix.felt_warm,
    deviation: mix.deviation,
    pot_life_reason: cup.pot_life_reason || mix.pot_life_reason,
    flags: mix.flags.includes('verdict_changed') ? [...cup.flags, 'verdict_changed'] : cup.flags,
  };
}
