"""The mix ratio.

``ratio`` is always parts B per part A **by mass**, g/g (100:30 is 0.3). The ratio error is
``(B/A)/ratio - 1``: above zero too much hardener, below zero too little. The hardener follows the
resin that was really poured, and a wrong cup is brought right by adding, never by taking out.
"""

from dataclasses import dataclass

from .constants import LIMIT_GUARD
from .errors import OutOfRange, require_positive
from .numbers import fixed

# Least decimals of a ratio on paper; common practice, no source.
_PAPER_DECIMALS = 3
# Largest share by which writing a ratio on paper may move it; common practice, no source.
_PAPER_ROUNDING = 0.001


@dataclass(frozen=True, slots=True)
class Targets:
    """Masses of the two parts of one cup, grams, unrounded."""

    part_a_g: float
    part_b_g: float
    total_g: float


@dataclass(frozen=True, slots=True)
class TopUp:
    """What brings a cup back to its ratio: the part to add, grams, and the total afterwards."""

    component: str
    add_g: float
    total_g: float


def mass_ratio(part_b_pbw: float) -> float:
    """Ratio of a system card.

    :param part_b_pbw: parts B per 100 parts A by mass, > 0.
    :return: parts B per part A, g/g.
    :raises OutOfRange: part_b_pbw is not above zero.
    :source: definition.
    """
    require_positive("part_b_pbw", part_b_pbw)
    return part_b_pbw / 100


def effective_ratio(ratio: float, filler_fraction_a: float) -> float:
    """Ratio that counts when part A already carries filler.

    :param ratio: parts B per part A of the clean resin, g/g, > 0.
    :param filler_fraction_a: filler mass per mass of filled part A, 0 <= x < 1.
    :return: parts B per part of filled A, g/g, unrounded.
    :raises OutOfRange: the fraction is outside 0 to 1.
    :source: mass balance; MX-17, MX-18 in tests/cases/ratio.json.
    """
    require_positive("ratio", ratio)
    if not 0 <= filler_fraction_a < 1:
        raise OutOfRange("filler_fraction_a", filler_fraction_a, "0 to below 1")
    return ratio * (1 - filler_fraction_a)


def written_ratio(ratio: float) -> str:
    """A ratio as a person reads it on paper: three decimals, more where they would mislead.

    :param ratio: parts B per part A, g/g, > 0.
    :return: text with a point; rounding never moves it by more than a thousandth of itself.
    :raises OutOfRange: the ratio is not above zero.
    :source: common practice, no source: a twentieth of the usual tolerance of 2 %.
    """
    require_positive("ratio", ratio)
    decimals = _PAPER_DECIMALS
    while abs(float(fixed(ratio, decimals)) / ratio - 1) > _PAPER_ROUNDING + LIMIT_GUARD:
        decimals += 1
    return fixed(ratio, decimals)


def filler_fraction(filler_phr: float) -> float:
    """Mass fraction of a filler given in parts per hundred of resin.

    :param filler_phr: grams of filler per 100 g of clean resin, >= 0.
    :return: filler mass per mass of filled resin, unrounded (5 phr is 0.0476, not 0.05).
    :raises OutOfRange: filler_phr is negative.
    :source: mass balance; MX-18 in tests/cases/ratio.json.
    """
    if not filler_phr >= 0:
        raise OutOfRange("filler_phr", filler_phr, "0 or more")
    return filler_phr / (100 + filler_phr)


def additive_g(part_a_g: float, additive_pct: float, cap_pct: float) -> float:
    """Mass of an additive given in per cent of part A.

    :param part_a_g: net part A without the additive, grams, > 0.
    :param additive_pct: asked share of part A, %, >= 0.
    :param cap_pct: largest share the card allows, %.
    :return: additive mass, grams, unrounded.
    :raises OutOfRange: the share is negative or above the cap.
    :source: definition; the worked case of the tinted surface coat in tests/cases/ratio.json.
    """
    require_positive("part_a_g", part_a_g)
    if not 0 <= additive_pct <= cap_pct:
        raise OutOfRange("additive_pct", additive_pct, f"0 to {cap_pct:g} %")
    return part_a_g * additive_pct / 100


def targets(total_g: float, ratio: float) -> Targets:
    """Split a planned total into its two parts.

    :param total_g: mass of the whole cup, grams, > 0.
    :param ratio: parts B per part A, g/g, > 0.
    :return: the two masses, unrounded.
    :raises OutOfRange: a figure is not above zero.
    :source: mass balance; MX-12 in tests/cases/ratio.json.
    """
    require_positive("total_g", total_g)
    require_positive("ratio", ratio)
    return Targets(total_g / (1 + ratio), total_g * ratio / (1 + ratio), total_g)


def hardener_target_g(part_a_g: float, ratio: float) -> float:
    """Hardener that matches an already poured mass of resin.

    :param part_a_g: net resin mass, grams, > 0.
    :param ratio: parts B per part A, g/g, > 0.
    :return: target mass, grams, unrounded.
    :raises OutOfRange: a figure is not above zero.
    :source: mass balance; MX-16 in tests/cases/ratio.json.
    """
    require_positive("part_a_g", part_a_g)
    require_positive("ratio", ratio)
    return ratio * part_a_g


def hardener_window_g(part_a_g: float, ratio: float, tolerance: float) -> tuple[float, float]:
    """Least and most hardener inside the tolerance.

    :param part_a_g: net resin mass, grams, > 0.
    :param ratio: parts B per part A, g/g, > 0.
    :param tolerance: allowed ratio error either way, 1, > 0 and < 1.
    :return: the two masses, grams, unrounded.
    :raises OutOfRange: a figure is out of its range.
    :source: definition; MX-25, CP-01 in tests/cases/ratio.json.
    """
    require_tolerance(tolerance)
    target_g = hardener_target_g(part_a_g, ratio)
    return target_g * (1 - tolerance), target_g * (1 + tolerance)


def require_tolerance(tolerance: float) -> None:
    """Refuse a tolerance outside 0 to 1.

    :raises OutOfRange: it is zero, negative, one or more, or not a number.
    """
    if not 0 < tolerance < 1:
        raise OutOfRange("tolerance", tolerance, "above 0 and below 1 (100 %)")


def ratio_error(part_a_g: float, part_b_g: float, ratio: float) -> float:
    """How far the poured ratio lies from the wanted one.

    :param part_a_g: net resin mass, grams, > 0.
    :param part_b_g: net hardener mass, grams, >= 0.
    :param ratio: parts B per part A, g/g, > 0.
    :return: relative error, 1; above zero hardener-rich, below zero hardener-lean.
    :raises OutOfRange: a figure is out of its range.
    :source: definition; MX-01, MX-02 in tests/cases/ratio.json.
    """
    require_positive("part_a_g", part_a_g)
    require_positive("ratio", ratio)
    if not 0 <= part_b_g < float("inf"):
        raise OutOfRange("part_b_g", part_b_g, "0 or more")
    return part_b_g / part_a_g / ratio - 1


def top_up(part_a_g: float, part_b_g: float, ratio: float) -> TopUp:
    """The one addition that brings a cup to its ratio.

    :param part_a_g: net resin mass, grams, > 0.
    :param part_b_g: net hardener mass, grams, > 0.
    :param ratio: parts B per part A, g/g, > 0.
    :return: which part, how much of it and the total afterwards, grams, unrounded.
    :raises OutOfRange: a figure is not above zero.
    :source: mass balance; MX-04, MX-05, MX-07 in tests/cases/ratio.json.
    """
    require_positive("part_b_g", part_b_g)
    missing_b_g = hardener_target_g(part_a_g, ratio) - part_b_g
    if missing_b_g >= 0:
        return TopUp("b", missing_b_g, part_a_g + part_b_g + missing_b_g)
    missing_a_g = part_b_g / ratio - part_a_g
    return TopUp("a", missing_a_g, part_a_g + part_b_g + missing_a_g)


def largest_part_a_g(largest_cup_g: float, ratio: float) -> float:
    """Resin above which the matching hardener would make the cup too large.

    :param largest_cup_g: largest mix in one cup, grams, > 0.
    :param ratio: parts B per part A, g/g, > 0.
    :return: resin mass, grams, unrounded.
    :raises OutOfRange: a figure is not above zero.
    :source: mass balance (MX-12 solved for A).
    """
    return targets(largest_cup_g, ratio).part_a_g
