"""Clocks that start at the cup.

The data sheet's pot life holds for its test mass and temperature. Warmth shortens it; cold never
lengthens it by formula. A figure that is not on the card starts no clock.
"""

from math import floor

from .cards import SystemCard
from .constants import HALVING_STEP_K


def pot_life_min(system: SystemCard, temperature_c: float | None) -> float | None:
    """Pot life to count on, whole minutes.

    :param system: the card of the cup.
    :param temperature_c: temperature of the shop, degrees Celsius, None if not known.
    :return: minutes rounded down, never more than the sheet says; None if not on the card.
    :source: halving per 10 degrees C, common practice, no source; PL-01 and the 45 min that become
        31 min at 30 degrees C in tests/cases/clocks.json.
    """
    sheet = system.pot_life
    if sheet is None:
        return None
    if temperature_c is None or temperature_c <= sheet.temperature_c:
        return float(floor(sheet.minutes))
    steps = (temperature_c - sheet.temperature_c) / HALVING_STEP_K
    return float(floor(sheet.minutes * 2.0**-steps))
