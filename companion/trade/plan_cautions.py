"""What must be said beside cups that are planned, by name; the words of a page are its own."""

from collections.abc import Sequence

from .cards import ScaleCard, SystemCard
from .constants import WARN_SHARE
from .cup_sizes import judged_from_g

#: Above it a shop counts as hot for a system whose pot life is not known, degrees Celsius: the
#: usual test temperature of a data sheet. Common practice, no source.
HOT_SHOP_C = 25.0

#: A system, and the mass of part A and part B in one cup of it, grams.
Mix = tuple[SystemCard, float]


def mix_cautions(mixes: Sequence[Mix], temperature_c: float | None = None) -> tuple[str, ...]:
    """What is to be said of cups whatever they are weighed on, in a fixed order.

    :param mixes: system and mass of each cup.
    :param temperature_c: of the shop, degrees Celsius; None if not known.
    :return: of ``exotherm``, ``cold_shop``, ``no_pot_life``, ``below_minimum`` and
        ``warm_unknown`` (the shop is hot, and without a pot life no cup was made smaller).
    """
    cards = [card for card, _ in mixes]
    raised = {
        "exotherm": any(_exceeds_test_mass(card, total_g) for card, total_g in mixes),
        "cold_shop": any(_is_colder(card, temperature_c) for card in cards),
        "no_pot_life": any(card.pot_life is None for card in cards),
        "below_minimum": any(_is_too_cold(card, temperature_c) for card in cards),
        "warm_unknown": any(_is_warm_unknown(card, temperature_c) for card in cards),
    }
    return tuple(name for name, is_raised in raised.items() if is_raised)


def plan_cautions(
    mixes: Sequence[Mix], scale: ScaleCard, temperature_c: float | None = None
) -> tuple[str, ...]:
    """What is to be said of cups on one scale: ``mix_cautions``, and ``proven_in_part``."""
    in_part = any(
        total_g < judged_from_g(card, scale, WARN_SHARE) for card, total_g in mixes if total_g
    )
    return (*mix_cautions(mixes, temperature_c), *(["proven_in_part"] if in_part else []))


def _exceeds_test_mass(card: SystemCard, total_g: float) -> bool:
    return card.pot_life is not None and total_g > card.pot_life.test_mass_g


def _is_colder(card: SystemCard, temperature_c: float | None) -> bool:
    if temperature_c is None or card.pot_life is None:
        return False
    return temperature_c < card.pot_life.temperature_c


def _is_too_cold(card: SystemCard, temperature_c: float | None) -> bool:
    if temperature_c is None or card.minimum_c is None:
        return False
    return temperature_c < card.minimum_c


def _is_warm_unknown(card: SystemCard, temperature_c: float | None) -> bool:
    if temperature_c is None or card.pot_life is not None:
        return False
    others_c = [times.temperature_c for times in (card.tack, card.cure) if times]
    return temperature_c > min([HOT_SHOP_C, *others_c])
