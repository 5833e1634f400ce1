/** Figures the rules rest on, each with its source; the same as on the server. */

/** Ounce avoirdupois; exact by the definition of the pound (0.45359237 kg). UCUM [oz_av]. */
export const GRAMS_PER_OUNCE = 28.349523125;
/** Coverage factor of the expanded uncertainty; GUM 6.3.3 (from memory). */
export const COVERAGE_FACTOR = 2.0;
/** Share of the tolerance the scale may use up before it is warned of; common practice, no source. */
export const WARN_SHARE = 1 / 3;
/**
 * Distance at which two figures count as equal at a limit: far below any display step,
 * far above the noise of binary fractions (0.015 - 0.005 is 0.009999999999999998).
 */
export const LIMIT_GUARD = 1e-12;
/** The same guard for counts of display steps. */
export const STEP_GUARD = 1e-9;
/** A correction is over 3 minutes after mixing began; common practice, no source. */
export const CORRECTION_AFTER_MIXING_S = 180.0;
/** ... or after this share of the pot life; common practice, no source. */
export const CORRECTION_POT_LIFE_SHARE = 1 / 3;
/** Share of the pot life from which a cup is warned of; common practice, no source. */
export const POT_LIFE_WARN_SHARE = 0.75;
/** More than two corrections are never offered; common practice, no source. */
export const MAX_CORRECTIONS = 2;
/** Pot life halves for each 10 degrees C more; common practice, no source. */
export const HALVING_STEP_K = 10.0;
/** How near a slipped reading must come to the expected one to be named a slip. */
export const SLIP_SHARE = 0.15;
/** Longest plausible display: seven digits before the point; more is a slip of the keys. */
export const MAX_INTEGER_DIGITS = 7;
/** A stirring stick that lies in the cup, or came out of it; common practice, no source. */
export const STICK_LIGHTEST_G = 3.0;
export const STICK_HEAVIEST_G = 6.0;
/**
 * A restarted scale may show the same load this many display steps off, from its two roundings and
 * a settling zero; more is mass that nobody read. Common practice, no source.
 */
export const SAME_LOAD_STEPS = 1.5;
/** Share of its auto-off time after which a scale is to be touched; common practice, no source. */
export const AUTO_OFF_NAG_SHARE = 0.7;
