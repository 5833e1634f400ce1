"""What must be said beside cups that are planned, by name; the words of a screen are its own."""

from collections.abc import Sequence

from .cards import ScaleCard, SystemCard
from .constants import WARN_SHARE
from .cup_sizes import judged_from_g


def plan_cautions(
    cups: Sequence[tuple[SystemCard, float]], scale: ScaleCard, temperature_c: float | None
) -> tuple[str, ...]:
    """Names of what must be said beside cups, in a fixed order.

    :param cups: of each cup its system, and part A with part B, grams.
    :param scale: the scale they are weighed on.
    :param temperature_c: of the shop, degrees Celsius; None for those of the sheets.
    :source: common practice, no source; the data sheet decides.
    """
    cards = [card for card, _ in cups]
    found = []
    if any(_exceeds_test_mass(card, total_g) for card, total_g in cups):
        found.append("exotherm")
    if temperature_c is not None and any(_is_colder(card, temperature_c) for card in cards):
        found.append("cold_shop")
    if any(card.pot_life is None for card in cards):
        found.append("no_pot_life")
    if any(total_g < judged_from_g(card, scale, WARN_SHARE) for card, total_g in cups):
        found.append("proven_in_part")
    if temperature_c is not None and any(_is_too_cold(card, temperature_c) for card in cards):
        found.append("below_minimum")
    return tuple(found)


def _exceeds_test_mass(card: SystemCard, total_g: float) -> bool:
    return card.pot_life is not None and total_g > card.pot_life.test_mass_g


def _is_colder(card: SystemCard, temperature_c: float) -> bool:
    return card.pot_life is not None and temperature_c < card.pot_life.temperature_c


def _is_too_cold(card: SystemCard, temperature_c: float) -> bool:
    return card.minimum_c is not None and temperature_c < card.minimum_c
