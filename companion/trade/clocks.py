"""Clocks that start at the cup.

The data sheet's pot life holds for its test mass and temperature. Warmth shortens it; cold never
lengthens it by formula. A figure that is not on the card starts no clock.
"""

from math import floor

from .cards import PotLife, SystemCard
from .errors import OutOfRange
from .warmth import TimePoint, largest_cup_g, shortened_min


def pot_life_min(system: SystemCard, temperature_c: float | None) -> float | None:
    """Pot life to count on, whole minutes.

    :param system: the card of the cup.
    :param temperature_c: temperature of the shop, degrees Celsius, None if not known.
    :return: minutes rounded down, never more than the sheet says at its reference point, which is
        ``system.pot_life``; None if not on the card.
    :source: halving per 10 degrees C with one point, Arrhenius with more (``warmth``); PL-01,
        PL-03 and the 45 min that become 31 min at 30 degrees C in tests/cases/clocks.json.
    """
    sheet = system.pot_life
    if sheet is None:
        return None
    longest_min = float(floor(sheet.minutes))
    if temperature_c is None:
        return longest_min
    return min(longest_min, _shortened_min(sheet, system.more_pot_life, temperature_c))


def largest_mix_g(system: SystemCard, temperature_c: float | None) -> float:
    """Largest cup of a system in this shop, grams; never more than its card says.

    :param temperature_c: temperature of the shop, degrees Celsius, None if not known.
    :return: the card's figure where it names no temperature, or the shop's is not known; else
        whole grams.
    :source: halving per 10 degrees C, common practice, no source; 150 g at 25 are 106 at 30.
    """
    if temperature_c is None or system.pot_life is None:
        return system.largest_cup_g
    sheet_c = system.pot_life.temperature_c
    if temperature_c <= sheet_c:
        return system.largest_cup_g
    return largest_cup_g(system.largest_cup_g, sheet_c, temperature_c)


def _shortened_min(sheet: PotLife, more: tuple[PotLife, ...], temperature_c: float) -> float:
    points = [TimePoint(point.minutes, point.temperature_c) for point in (sheet, *more)]
    try:
        return shortened_min(points, temperature_c)
    except OutOfRange:
        # Points that contradict each other (longer when warmer) must not stop a cup that is under
        # way: the reference alone still shortens.
        return shortened_min(points[:1], temperature_c)
