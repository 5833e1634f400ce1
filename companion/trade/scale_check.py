"""Weighing a check weight: is the scale as good as it should be?

A scale is checked against the larger of two display steps and what reading it and the weight itself
may be off by. Beyond that a person looks at the scale before the next cup.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from .constants import COVERAGE_FACTOR, LIMIT_GUARD
from .errors import require_positive

#: Largest permissible error of a weight by class and nominal mass (g), milligrams.
#: OIML R 111-1:2004 table 1 (from memory; two secondary copies agree); WM-45 to WM-47.
MPE_MG: Mapping[str, Mapping[int, float]] = {
    "F2": {1: 0.3, 2: 0.4, 5: 0.5, 10: 0.6, 20: 0.8, 50: 1, 100: 1.6}
    | {200: 3, 500: 8, 1000: 16, 2000: 30},
    "M1": {1: 1, 2: 1.2, 5: 1.6, 10: 2, 20: 2.5, 50: 3, 100: 5}
    | {200: 10, 500: 25, 1000: 50, 2000: 100},
    "M2": {1: 3, 2: 4, 5: 5, 10: 6, 20: 8, 50: 10, 100: 16}
    | {200: 30, 500: 80, 1000: 160, 2000: 300},
}
CLASSES = tuple(MPE_MG)
NOMINALS_G = tuple(MPE_MG["M1"])
_MG_PER_G = 1000
# Steps of the display a scale may be off at least; common practice, no source.
_LEAST_STEPS = 2


@dataclass(frozen=True, slots=True)
class CheckJudgement:
    """What a check says.

    :ivar error_g: display less nominal mass, grams.
    :ivar limit_g: what it may be at most either way, grams.
    :ivar mpe_g: what the weight may be off, grams; None where its class is not known.
    """

    error_g: float
    limit_g: float
    within: bool
    mpe_g: float | None


def weight_mpe_g(nominal_g: float, weight_class: str) -> float | None:
    """Largest permissible error of a check weight, grams; None where the table has none.

    :param nominal_g: nominal mass, grams.
    :param weight_class: F2, M1 or M2; anything else is not known.
    :source: OIML R 111-1:2004 table 1 (from memory); WM-45 to WM-47.
    """
    mpe_mg = MPE_MG.get(weight_class, {}).get(int(nominal_g) if nominal_g % 1 == 0 else 0)
    return None if mpe_mg is None else mpe_mg / _MG_PER_G


def judge_check(
    display_g: float,
    nominal_g: float,
    weight_class: str,
    readability_g: float,
    variance_g2: float,
) -> CheckJudgement:
    """Judge the display under a check weight.

    :param display_g: what the scale shows with the weight on it, grams.
    :param nominal_g: nominal mass of the weight, grams, > 0.
    :param weight_class: as for ``weight_mpe_g``; not known counts as exact.
    :param readability_g: display step d, grams, > 0.
    :param variance_g2: variance of one reading, square grams; zero and load are read.
    :return: error and limit, grams, unrounded; at the limit counts as within.
    :raises OutOfRange: nominal_g or readability_g are not above zero.
    :source: limit = max(2 d, U + mpe) with U = k sqrt(2 v); common practice, no source.
    """
    require_positive("nominal_g", nominal_g)
    require_positive("readability_g", readability_g)
    mpe_g = weight_mpe_g(nominal_g, weight_class)
    error_g = display_g - nominal_g
    expanded_g = COVERAGE_FACTOR * sqrt(2 * variance_g2)
    limit_g = max(_LEAST_STEPS * readability_g, expanded_g + (mpe_g or 0.0))
    # Far below any display step: 500.2 - 500 is 0.19999999999998863.
    guard_g = max(LIMIT_GUARD * nominal_g, LIMIT_GUARD)
    return CheckJudgement(error_g, limit_g, abs(error_g) <= limit_g + guard_g, mpe_g)
