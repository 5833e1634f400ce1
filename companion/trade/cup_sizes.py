"""How large a cup may be on this scale and in this shop, and how a mass is split into such cups."""

from dataclasses import dataclass
from math import ceil

from .cards import ScaleCard, SystemCard
from .clocks import largest_mix_g
from .constants import STEP_GUARD
from .errors import CompanionError, OutOfRange, require_positive
from .judgement import room_g
from .weighing import reading_variance_g2, smallest_cup_g

MOST_CUPS = 100


@dataclass(frozen=True, slots=True)
class Split:
    """A mass in equal cups."""

    cups: int
    each_g: float


@dataclass(frozen=True, slots=True)
class Limits:
    """What one cup of a system may hold on one scale."""

    smallest_g: float
    largest_g: float


class NoSuchPlan(CompanionError):
    """These cups cannot be held or judged.

    :ivar nearest: the nearest split that can; None where there is none.
    """

    http_hint = 422

    def __init__(self, step: str, split: Split, limits: Limits, nearest: Split | None) -> None:
        self.step, self.split, self.limits, self.nearest = step, split, limits, nearest
        instead = (
            f"nearest that works: {nearest.cups} of {nearest.each_g:.1f} g"
            if nearest
            else "no number of cups works on this scale"
        )
        super().__init__(
            f"{step}: {split.cups} cups of {split.each_g:.1f} g; allowed is "
            f"{limits.smallest_g:.1f} to {limits.largest_g:.1f} g a cup; {instead}"
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
