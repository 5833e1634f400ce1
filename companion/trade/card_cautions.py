"""What to look at on a system card: figures that are allowed and yet seem copied wrongly.

None of this replaces the data sheet; the data sheet's ratio always wins.
"""

from dataclasses import dataclass

from .card_forms.system import pbw_of_volumes
from .cards import SystemCard
from .constants import LIMIT_GUARD
from .stoichiometry import DEPARTURE_TO_ASK, departure, stoichiometric_pbw

# Densities that differ by more than this make the two ratios differ; common practice, no source.
_SAME_DENSITY = 0.01
# Departure of a ratio by mass from the one that follows from the volumes; common practice, no
# source.
_VOLUME_DEPARTURE = 0.05

EQUAL_FIGURES, OTHER_THAN_VOLUMES = "equal_figures", "other_than_volumes"
OTHER_THAN_CHEMISTRY = "other_than_chemistry"


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing to look at: its kind, and the computed parts B per 100 A beside the card's.

    :ivar departure: how far the card is from the computed figure, 1; + for more hardener.
    """

    kind: str
    computed_pbw: float
    departure: float


def chemistry_pbw(card: SystemCard) -> float | None:
    """Parts B per 100 A by mass that the equivalent weights say; None where one is missing."""
    if card.eew_g_eq is None or card.ahew_g_eq is None:
        return None
    return stoichiometric_pbw(card.ahew_g_eq, card.eew_g_eq)


def cautions(card: SystemCard) -> tuple[Caution, ...]:
    """Everything on a card that a person should compare with the data sheet once more.

    :source: ``stoichiometric_pbw`` (15 %) and ``mass_ratio_of_volumes`` (5 %); limits are common
        practice, no source.
    """
    return (*_of_volumes(card), *_of_chemistry(card))


def _of_volumes(card: SystemCard) -> tuple[Caution, ...]:
    by_volume = card.by_volume
    if by_volume is None:
        return ()
    computed_pbw = pbw_of_volumes(by_volume)
    off = departure(card.part_b_pbw, computed_pbw)
    densities = by_volume.density_b_g_cm3 / by_volume.density_a_g_cm3
    same = abs(card.part_b_pbw - by_volume.part_b_pbv) <= LIMIT_GUARD
    if same and abs(densities - 1) > _SAME_DENSITY:
        return (Caution(EQUAL_FIGURES, computed_pbw, off),)
    if abs(off) > _VOLUME_DEPARTURE + LIMIT_GUARD:
        return (Caution(OTHER_THAN_VOLUMES, computed_pbw, off),)
    return ()


def _of_chemistry(card: SystemCard) -> tuple[Caution, ...]:
    computed_pbw = chemistry_pbw(card)
    if computed_pbw is None:
        return ()
    off = departure(card.part_b_pbw, computed_pbw)
    asked = abs(off) > DEPARTURE_TO_ASK + LIMIT_GUARD
    return (Caution(OTHER_THAN_CHEMISTRY, computed_pbw, off),) if asked else ()
