"""What a scale can tell.

A display rounds to its readability d, so a reading has the variance d^2/12 (rectangular), plus
the repeatability s^2 where it is on record. A pour is the difference of two readings; the reading
between two pours belongs to both, which makes their masses depend on each other. For any sequence
of pours the relative uncertainty of B/A is

    u_rel^2 = sum over readings j of u_j^2 * (b_j/mB - a_j/mA)^2

where a_j (b_j) is +1 if reading j ends a pour of A (B), -1 if it starts one. Readings between two
pours of the same part cancel. The verdict keeps a guard band of the expanded uncertainty (k = 2)
inside and outside the tolerance: proven in, in, out, proven out.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import sqrt

from .constants import COVERAGE_FACTOR, LIMIT_GUARD
from .errors import OutOfRange, require_positive
from .ratio import ratio_error


@dataclass(frozen=True, slots=True)
class Pour:
    """One addition: what was poured, how much, and whether it starts on a reading of its own.

    ``opens`` is true for the first pour and for the first after the display was re-zeroed;
    otherwise the pour starts on the reading that ended the pour before. ``unfinished`` is true
    where the scale was restarted in the middle of the pour: more of the same is still to come.
    """

    component: str
    net_g: float
    opens: bool = False
    unfinished: bool = False


class Verdict(StrEnum):
    """Inside or outside the tolerance, proven by this scale or not."""

    IN = "in"
    IN_UNPROVEN = "in_unproven"
    OUT_UNPROVEN = "out_unproven"
    OUT = "out"


def reading_variance_g2(readability_g: float, repeatability_g: float | None = None) -> float:
    """Variance of one reading.

    :param readability_g: display step d, grams, > 0.
    :param repeatability_g: standard deviation of repeated readings, grams, or None if not on
        record; then the display step alone counts.
    :return: d^2/12 + s^2, square grams.
    :raises OutOfRange: d is not above zero or s is negative.
    :source: GUM 4.3.7, F.2.2.1 (from memory); WM-01 in tests/cases/weighing.json.
    """
    require_positive("readability_g", readability_g)
    s_g = repeatability_g or 0.0
    if s_g < 0:
        raise OutOfRange("repeatability_g", s_g, "0 or more")
    return readability_g * readability_g / 12 + s_g * s_g


def net_of(pours: Sequence[Pour], component: str) -> float:
    """Mass of one component over all pours, grams."""
    # A plain loop: sum() compensates rounding in newer Pythons, and the phone would not.
    total_g = 0.0
    for pour in pours:
        if pour.component == component:
            total_g += pour.net_g
    return total_g


def ratio_u_rel(pours: Sequence[Pour], variance_g2: float) -> float:
    """Relative standard uncertainty of B/A from the readings of one cup.

    :param pours: every pour of the cup in order; components other than a and b may lie between.
    :param variance_g2: variance of one reading, square grams.
    :return: u(B/A)/(B/A), 1, unrounded.
    :raises OutOfRange: one of the two parts has no mass.
    :source: GUM 5.2.2 for correlated inputs (from memory), any order as in trade notes 3.2;
        WM-06, WM-07, WM-10, WM-55 in tests/cases/weighing.json, confirmed there with GTC.
    """
    part_a_g, part_b_g = net_of(pours, "a"), net_of(pours, "b")
    require_positive("part_a_g", part_a_g)
    require_positive("part_b_g", part_b_g)

    def share(pour: Pour) -> float:
        if pour.component == "a":
            return -1 / part_a_g
        return 1 / part_b_g if pour.component == "b" else 0.0

    total = 0.0
    for index, pour in enumerate(pours):
        here = share(pour)
        if index == 0 or pour.opens:
            total += variance_g2 * here * here
        runs_on = index + 1 < len(pours) and not pours[index + 1].opens
        end = here - share(pours[index + 1]) if runs_on else here
        total += variance_g2 * end * end
    return sqrt(total)


def expanded_uncertainty(pours: Sequence[Pour], ratio: float, variance_g2: float) -> float:
    """Expanded uncertainty (k = 2) of the ratio error of one cup.

    :param pours: every pour of the cup in order.
    :param ratio: wanted parts B per part A, g/g, > 0.
    :param variance_g2: variance of one reading, square grams.
    :return: U of the ratio error, 1, unrounded.
    :raises OutOfRange: one of the two parts has no mass.
    :source: U = k (1 + e) u_rel; GUM 6.2 (from memory).
    """
    error = ratio_error(net_of(pours, "a"), net_of(pours, "b"), ratio)
    return COVERAGE_FACTOR * (1 + error) * ratio_u_rel(pours, variance_g2)


def verdict(error: float, tolerance: float, expanded: float) -> Verdict:
    """Judge a ratio error against its tolerance with the guard band of the uncertainty.

    :param error: ratio error, 1.
    :param tolerance: allowed error either way, 1, > 0.
    :param expanded: expanded uncertainty of the error, 1, >= 0.
    :return: in, in_unproven, out_unproven or out; figures at a limit count as inside it.
    :source: ILAC-G8:09/2019 4.2.2-4.2.3; WM-18, WM-23 in tests/cases/weighing.json.
    """
    size = abs(error)
    if size <= tolerance - expanded + LIMIT_GUARD:
        return Verdict.IN
    if size <= tolerance + LIMIT_GUARD:
        return Verdict.IN_UNPROVEN
    if size <= tolerance + expanded + LIMIT_GUARD:
        return Verdict.OUT_UNPROVEN
    return Verdict.OUT


def smallest_cup_g(
    ratio: float, tolerance: float, variance_g2: float, share: float, retared: bool = False
) -> float:
    """Smallest cup whose expanded uncertainty stays within a share of the tolerance.

    :param ratio: parts B per part A, g/g, > 0.
    :param tolerance: allowed ratio error either way, 1, > 0.
    :param variance_g2: variance of one reading, square grams.
    :param share: part of the tolerance the scale may use up; 1 refuses, 1/3 warns.
    :param retared: true if the display is set to zero between the pours.
    :return: total mass of the cup, grams, unrounded.
    :raises OutOfRange: a figure is not above zero.
    :source: trade notes 3.4, derived and inverse-checked; WM-27 to WM-29 in
        tests/cases/weighing.json.
    """
    require_positive("ratio", ratio)
    require_positive("tolerance", tolerance)
    require_positive("share", share)
    form = 1 + ratio * ratio if retared else 1 + ratio + ratio * ratio
    part_b_g = COVERAGE_FACTOR * sqrt(2 * variance_g2 * form) / (share * tolerance)
    return part_b_g * (1 + 1 / ratio)


@dataclass(frozen=True, slots=True)
class ScaleCheck:
    """Outcome of weighing a known mass: error and its expanded uncertainty, grams."""

    error_g: float
    expanded_g: float
    significant: bool


def check_scale(
    display_g: float,
    nominal_g: float,
    variance_g2: float,
    weight_mpe_g: float,
) -> ScaleCheck:
    """Compare the display with a check weight.

    :param display_g: what the scale shows with the weight on it, grams.
    :param nominal_g: nominal mass of the weight, grams, > 0.
    :param variance_g2: variance of one reading, square grams; zero and load are read.
    :param weight_mpe_g: largest permissible error of the weight, grams, >= 0.
    :return: the error, its expanded uncertainty and whether the error is more than that.
    :raises OutOfRange: nominal_g is not above zero.
    :source: u^2 = 2 v + mpe^2/3 (rectangular); WM-48 in tests/cases/weighing.json.
    """
    require_positive("nominal_g", nominal_g)
    error_g = display_g - nominal_g
    expanded_g = COVERAGE_FACTOR * sqrt(2 * variance_g2 + weight_mpe_g * weight_mpe_g / 3)
    return ScaleCheck(error_g, expanded_g, abs(error_g) > expanded_g)
