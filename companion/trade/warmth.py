"""How warmth changes times: working time, tack windows and cure.

With two points of the data sheet or more, Arrhenius between its two nearest; with one, halving per
10 degrees C. Limits go to the safe side: warmth shortens a time, cold never lengthens it beyond
the sheet, a window opens at the later and closes at the earlier of sheet and formula.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, floor, inf, log

from .constants import HALVING_STEP_K
from .errors import OutOfRange, require_positive

# CODATA 2018, exact, J/(mol K).
GAS_CONSTANT_J_MOL_K = 8.314462618
# Zero of the Celsius scale, exact by definition, K.
ZERO_C_IN_K = 273.15


@dataclass(frozen=True, slots=True)
class TimePoint:
    """A time of the data sheet at a temperature."""

    minutes: float
    temperature_c: float


def activation_energy_j_mol(one: TimePoint, other: TimePoint) -> float:
    """Activation energy that two times at two temperatures mean.

    :raises OutOfRange: a time not above zero, or twice the same temperature.
    :source: Arrhenius; PL-03.
    """
    require_positive("minutes", one.minutes)
    require_positive("minutes", other.minutes)
    if one.temperature_c == other.temperature_c:
        raise OutOfRange("temperature_c", one.temperature_c, "two temperatures that differ")
    inverse = 1 / _kelvin(one.temperature_c) - 1 / _kelvin(other.temperature_c)
    return GAS_CONSTANT_J_MOL_K * log(one.minutes / other.minutes) / inverse


def arrhenius_min(point: TimePoint, energy_j_mol: float, temperature_c: float) -> float:
    """A time at another temperature.

    :param energy_j_mol: activation energy, > 0.
    :raises OutOfRange: a time or an energy not above zero.
    :source: Arrhenius; PL-06, PL-08, CU-01, CU-23.
    """
    require_positive("minutes", point.minutes)
    require_positive("energy_j_mol", energy_j_mol)
    inverse = 1 / _kelvin(temperature_c) - 1 / _kelvin(point.temperature_c)
    return point.minutes * exp(energy_j_mol / GAS_CONSTANT_J_MOL_K * inverse)


def halved_min(point: TimePoint, temperature_c: float) -> float:
    """A time at another temperature, by halving for each 10 degrees C more.

    :raises OutOfRange: a time not above zero.
    :source: common practice, no source; PL-01.
    """
    require_positive("minutes", point.minutes)
    return point.minutes * float(2.0 ** (-(temperature_c - point.temperature_c) / HALVING_STEP_K))


def time_min(points: Sequence[TimePoint], temperature_c: float) -> float:
    """A time of the sheet brought to a temperature, in either direction.

    :param points: of the sheet, one or more, each at a temperature of its own.
    :raises OutOfRange: no point, or two at one temperature.
    :source: as above; between two points the nearest two, beyond them the outermost two.
    """
    if not points:
        raise OutOfRange("points", 0, "1 or more")
    ordered = sorted(points, key=lambda point: point.temperature_c)
    if len(ordered) == 1:
        return halved_min(ordered[0], temperature_c)
    above = next(
        (
            place
            for place, point in enumerate(ordered[1:-1], 1)
            if temperature_c <= point.temperature_c
        ),
        len(ordered) - 1,
    )
    low, high = ordered[above - 1], ordered[above]
    energy = activation_energy_j_mol(low, high)
    if energy <= 0:
        raise OutOfRange("minutes", high.minutes, f"below {low.minutes:g}, the time when colder")
    return arrhenius_min(low, energy, temperature_c)


def shortened_min(points: Sequence[TimePoint], temperature_c: float) -> float:
    """A time that closes something: shorter when warmer, never longer than the sheet says.

    :return: whole minutes, rounded down.
    :raises OutOfRange: no point, or two at one temperature.
    """
    found = time_min(points, temperature_c)
    longest = max(point.minutes for point in points)
    return float(floor(min(found, longest) + 1e-9))


def window_min(
    opens_min: float, closes_min: float, sheet_c: float, temperature_c: float
) -> tuple[float, float]:
    """A window of the sheet at another temperature: it opens later and closes earlier, never wider.

    :param opens_min: after the coat ended, at the sheet's temperature; closes_min likewise.
    :return: minutes, unrounded; empty where the first is not below the second.
    :raises OutOfRange: a time not above zero, or a window that closes before it opens.
    :source: halving per 10 degrees C and the safe side, common practice, no source.
    """
    require_positive("opens_min", opens_min)
    if not opens_min < closes_min < inf:
        raise OutOfRange("closes_min", closes_min, f"above {opens_min:g}")
    factor = halved_min(TimePoint(1.0, sheet_c), temperature_c)
    return max(opens_min, opens_min * factor), min(closes_min, closes_min * factor)


def used_share(spent: Sequence[tuple[float, TimePoint]], points: Sequence[TimePoint]) -> float:
    """Share of a time that is used up after spells at several temperatures.

    :param spent: (minutes, a point whose temperature they were spent at).
    :raises OutOfRange: no point.
    :source: additivity, as ASTM C1074 for concrete (from memory); PL-09, CU-02.
    """
    return sum(minutes / time_min(points, at.temperature_c) for minutes, at in spent)


def largest_cup_g(sheet_g: float, sheet_c: float, temperature_c: float) -> float:
    """Largest cup of a system in a shop warmer than the sheet; never more than the sheet says.

    :return: whole grams, rounded down.
    :raises OutOfRange: a mass not above zero.
    :source: common practice, no source; 150 g at 25 become 106 g at 30 degrees C.
    """
    require_positive("sheet_g", sheet_g)
    steps = max(0.0, temperature_c - sheet_c) / HALVING_STEP_K
    return float(floor(sheet_g * 2.0**-steps + 1e-9))


def _kelvin(temperature_c: float) -> float:
    if not -ZERO_C_IN_K < temperature_c < inf:
        raise OutOfRange("temperature_c", temperature_c, f"above {-ZERO_C_IN_K}")
    return temperature_c + ZERO_C_IN_K
