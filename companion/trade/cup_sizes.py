"""How large a cup may be on this scale and in this shop, and how a mass is split into such cups."""

from dataclasses import dataclass
from math import ceil

from .cards import ScaleCard, SystemCard
from .clocks import largest_mix_g
from .constants import STEP_GUARD
from .errors import CompanionError, OutOfRange, require_positive
from .judgement import room_g
from .numbers import at_least_g, at_most_g, up_to_tenth
from .weighing import reading_variance_g2, smallest_cup_g

MOST_CUPS = 100


@dataclass(frozen=True, slots=True)
class Split:
    """A mass in equal cups.

    :ivar surplus_g: what all of them hold beyond what is needed and what stays in them.
    """

    cups: int
    each_g: float
    surplus_g: float = 0.0


@dataclass(frozen=True, slots=True)
class Limits:
    """What one cup of a system may hold on one scale."""

    smallest_g: float
    largest_g: float


class NoSuchPlan(CompanionError):
    """These cups cannot be held or judged.

    :ivar nearest: the nearest split that can; None where there is none. Where a job needs less
        than a scale can judge it is a cup of the smallest size, with its surplus.
    :ivar least_cup_g: what the job must say to get it; 0 for nothing.
    """

    http_hint = 422

    def __init__(
        self,
        step: str,
        split: Split,
        limits: Limits,
        nearest: Split | None,
        least_cup_g: float = 0.0,
    ) -> None:
        self.step, self.split, self.limits, self.nearest = step, split, limits, nearest
        self.least_cup_g = least_cup_g
        instead = self._instead() if nearest else "no number of cups works on this scale"
        super().__init__(
            f"{step}: {split.cups} cups of {split.each_g:.1f} g; allowed is "
            f"{at_least_g(limits.smallest_g)} to {at_most_g(limits.largest_g)} g a cup; {instead}"
        )

    def _instead(self) -> str:
        nearest = self.nearest
        assert nearest is not None
        said = f"nearest that works: {nearest.cups} of {nearest.each_g:.1f} g"
        if not nearest.surplus_g:
            return said
        return (
            f"{said}, {nearest.surplus_g:.1f} g more than needed; the job takes it with "
            f"least_cup_g {self.least_cup_g:.1f}"
        )


def split(needed_g: float, loss_per_cup_g: float, cups: int) -> Split:
    """A mass in so many equal cups, each with what stays in it.

    :raises OutOfRange: a mass not above zero, a loss below zero, or cups out of range.
    :source: definition; MX-14.
    """
    require_positive("needed_g", needed_g)
    require_zero_or_more("loss_per_cup_g", loss_per_cup_g)
    if not 1 <= cups <= MOST_CUPS:
        raise OutOfRange("cups", cups, f"1 to {MOST_CUPS}")
    return Split(cups, (needed_g + cups * loss_per_cup_g) / cups)


def fewest(needed_g: float, loss_per_cup_g: float, largest_g: float) -> Split:
    """The fewest equal cups that are none too large.

    :raises OutOfRange: as ``split``; or the largest cup holds no more than its loss.
    :source: MX-14; the guard keeps binary noise from making one more (2.1 / 0.7).
    """
    require_positive("needed_g", needed_g)
    if largest_g <= loss_per_cup_g:
        raise OutOfRange("loss_per_cup_g", loss_per_cup_g, f"below {largest_g:g}, the largest cup")
    return split(
        needed_g, loss_per_cup_g, ceil(needed_g / (largest_g - loss_per_cup_g) - STEP_GUARD)
    )


def at_least(found: Split, least_g: float) -> Split:
    """The same number of cups, none smaller than a mass; what nobody needs is their surplus.

    :param least_g: grams; 0 for none.
    :source: definition.
    """
    if found.each_g >= least_g:
        return found
    return Split(found.cups, least_g, found.cups * (least_g - found.each_g))


def nearest_split(best: Split, limits: Limits) -> Split | None:
    """The cups that come nearest to what was asked and can be held and judged; None for none.

    :param best: the fewest cups that are none too large.
    :return: these; where they are too small to be judged, as many of the smallest size, up to
        0.1 g.
    :source: T13; rounded down, the scale could not judge it.
    """
    if best.each_g >= limits.smallest_g - STEP_GUARD:
        return best
    smallest_g = up_to_tenth(limits.smallest_g)
    fits = smallest_g <= limits.largest_g + STEP_GUARD
    return at_least(best, smallest_g) if fits else None


def cup_limits(
    card: SystemCard,
    scale: ScaleCard,
    temperature_c: float | None,
    empty_cup_g: float = 0.0,
    paste_share: float = 0.0,
) -> Limits:
    """What one cup of a system may hold on a scale, in a shop of this temperature.

    :param empty_cup_g: what stands on the scale before part A.
    :param paste_share: paste per gram of part A and part B; it takes room on top of them.
    """
    largest_g = min(largest_mix_g(card, temperature_c), room_g(scale, empty_cup_g))
    return Limits(judged_from_g(card, scale, 1.0), largest_g / (1 + paste_share))


def judged_from_g(card: SystemCard, scale: ScaleCard, share: float) -> float:
    """Smallest cup whose uncertainty takes no more than a share of the tolerance."""
    variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)
    return smallest_cup_g(card.ratio, card.tolerance, variance_g2, share)


def require_zero_or_more(field: str, value: float) -> None:
    """Refuse a figure below zero.

    :raises OutOfRange: below zero, infinite or not a number.
    """
    if not 0 <= value < float("inf"):
        raise OutOfRange(field, value, "0 or more")
