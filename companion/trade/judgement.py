"""What a scale can judge of a system, and what it carries beside the empty cup."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .cards import CupType, ScaleCard, SystemCard
from .constants import WARN_SHARE
from .numbers import up_to_tenth
from .weighing import reading_variance_g2, smallest_cup_g


@dataclass(frozen=True, slots=True)
class Judgement:
    """What one scale can judge of one system: smallest cups, grams, rounded up to 0.1 g."""

    scale: ScaleCard
    refuse_below_g: float
    warn_below_g: float


def judgements(system: SystemCard, scales: Sequence[ScaleCard]) -> tuple[Judgement, ...]:
    """What each scale can judge of a system, the finest scale first.

    :source: ``smallest_cup_g``; refused at the whole tolerance, warned at a third of it.
    """
    found = []
    for scale in scales:
        variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)
        refuse_g, warn_g = (
            up_to_tenth(smallest_cup_g(system.ratio, system.tolerance, variance_g2, share))
            for share in (1, WARN_SHARE)
        )
        found.append(Judgement(scale, refuse_g, warn_g))
    return tuple(sorted(found, key=lambda judgement: judgement.refuse_below_g))


def room_g(scale: ScaleCard, empty_cup_g: float, paste_g: float = 0.0) -> float:
    """Most of part A and part B a scale carries, grams: the display runs on from the empty cup.

    :param empty_cup_g: what stands on the scale before part A.
    :param paste_g: what comes on top of part A and part B.
    :source: definition: the capacity holds for all that stands on the scale.
    """
    return max(0.0, scale.capacity_g - empty_cup_g - paste_g)


def heaviest_cup_g(cup_types: Iterable[CupType]) -> float:
    """Heaviest empty cup on record, grams; 0 where none is."""
    return max((cup_type.mass_g for cup_type in cup_types), default=0.0)
