"""A paste in part A: poured after A and before the hardener, and counted nowhere in the ratio.

How much of it goes in follows the part A really poured, never what else is in the cup; and the
hardener follows part A alone. Whoever takes the hardener from all that is in the cup pours too
much of it by as many per cent as there is paste.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ..cards import ScaleCard
from ..constants import STEP_GUARD
from ..weighing import Pour, net_of
from .progress import CupState
from .readings import PARTS
from .state import Cup

#: States in which no hardener was opened yet.
_BEFORE_HARDENER = frozenset({CupState.STARTED, CupState.EMPTY_READ, CupState.A_WAITING})


@dataclass(frozen=True, slots=True)
class PlannedAdditive:
    """What a plan asks for: the code of the paste and its share of part A, %, > 0.

    :ivar cap_pct: most its card allows, % of part A; None where the card is not known.
    """

    code: str
    share_pct: float
    cap_pct: float | None = None

    @property
    def poured_pct(self) -> float:
        """Share of part A that is poured, %: as planned, never above the cap."""
        return self.share_pct if self.cap_pct is None else min(self.share_pct, self.cap_pct)


@dataclass(frozen=True, slots=True)
class Added:
    """An additive that is in a cup: its mass, grams, and its share of part A, 1."""

    code: str
    net_g: float
    share: float | None


def added(cup: Cup) -> tuple[Added, ...]:
    """Additives in a cup in the order they went in; the share is None where no part A is in it.

    :source: definition; T13 in tests/cases/additive.json.
    """
    codes = dict.fromkeys(pour.component for pour in cup.pours if pour.component not in PARTS)
    found = []
    for code in codes:
        net_g = net_of(cup.pours, code)
        found.append(Added(code, net_g, net_g / cup.part_a_g if cup.part_a_g > 0 else None))
    return tuple(found)


def additives_g(pours: Sequence[Pour]) -> float:
    """Mass of everything that is neither part A nor part B, grams."""
    total_g = 0.0
    for pour in pours:
        if pour.component not in PARTS:
            total_g += pour.net_g
    return total_g


def is_missing(cup: Cup, additive: PlannedAdditive | None) -> bool:
    """Whether the planned paste was not read yet, or its pour was broken off by a restart.

    A reading that equals the one before says that none went in; that is an answer, too.
    """
    if additive is None:
        return False
    own = [pour for pour in cup.pours if pour.component == additive.code]
    return not own or own[-1].unfinished


def left_g(cup: Cup, additive: PlannedAdditive) -> float:
    """Paste still to pour for the part A in the cup, grams, unrounded, 0 and more."""
    wanted_g = cup.part_a_g * additive.poured_pct / 100
    return max(0.0, wanted_g - net_of(cup.pours, additive.code))


def most_left_g(cup: Cup, additive: PlannedAdditive, scale: ScaleCard) -> float:
    """Paste that may still go in before the display shows more than the cap, grams.

    The stop is rounded to a step of the display, so half a step above the cap is still the cap.
    """
    cap_pct = additive.share_pct if additive.cap_pct is None else additive.cap_pct
    there_g = net_of(cup.pours, additive.code)
    return cup.part_a_g * cap_pct / 100 + scale.readability_g / 2 - there_g


def paste_cautions(cup: Cup, additive: PlannedAdditive | None, scale: ScaleCard) -> tuple[str, ...]:
    """What is wrong with the paste: planned or poured above its cap, or too late to pour."""
    if additive is None:
        return ()
    has_cap = additive.cap_pct is not None and cup.part_a_g > 0
    cautions = {
        "paste_capped": additive.poured_pct < additive.share_pct,
        "paste_over_cap": has_cap and most_left_g(cup, additive, scale) < -STEP_GUARD,
        "paste_too_late": is_missing(cup, additive) and cup.state not in _BEFORE_HARDENER,
    }
    return tuple(name for name, raised in cautions.items() if raised)
