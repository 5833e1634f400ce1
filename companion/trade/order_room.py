"""Whether what is ordered fits: into the cup, under the system's limit, onto a scale."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from .cards import CupType, ScaleCard, SystemCard
from .constants import STEP_GUARD
from .cup.limits import largest_g
from .judgement import Judgement, judgements, room_g
from .numbers import fixed
from .order_problem import OrderProblem
from .paste_order import written_g


@dataclass(frozen=True, slots=True)
class Mixed:
    """One cup of an order.

    :ivar total_g: part A and part B.
    :ivar value: the same as it was typed, with a point.
    :ivar paste_g: on top of it: it takes room, and no scale is judged by it.
    :ivar empty_cup_g: what stands on the scale before part A.
    """

    system: SystemCard
    total_g: float
    value: str
    paste_g: float
    cup_type: CupType | None
    empty_cup_g: float


def room_problems(mixed: Mixed, scales: Sequence[ScaleCard]) -> list[OrderProblem]:
    """Why this cup cannot be: too much for cup, system or scale, or too little for a scale."""
    cup_type = mixed.cup_type
    most_g = largest_g(mixed.system, cup_type.volume_ml if cup_type else None)
    if mixed.total_g + mixed.paste_g > most_g + STEP_GUARD:
        return [_too_large(mixed, most_g)]
    return _of_scales(mixed, judgements(mixed.system, scales))


def carrying(mixed: Mixed, scales: Sequence[ScaleCard]) -> list[ScaleCard]:
    """Scales that carry this cup until its last drop."""
    return [scale for scale in scales if mixed.total_g <= _room_g(mixed, scale) + STEP_GUARD]


def _room_g(mixed: Mixed, scale: ScaleCard) -> float:
    return room_g(scale, mixed.empty_cup_g, mixed.paste_g)


def _too_large(mixed: Mixed, most_g: float) -> OrderProblem:
    system, cup_type = mixed.system, mixed.cup_type
    of_system = most_g == system.largest_cup_g or not cup_type
    owner = system.name if of_system or not cup_type else cup_type.code
    problem = "over_largest" if of_system else "over_volume"
    if mixed.paste_g > 0:
        problem, paste = f"{problem}_with_paste", written_g(mixed.paste_g)
        return OrderProblem("total", problem, mixed.value, f"{most_g:g}", owner, paste)
    return OrderProblem("total", problem, mixed.value, f"{most_g:g}", owner)


def _of_scales(mixed: Mixed, found: Sequence[Judgement]) -> list[OrderProblem]:
    able = carrying(mixed, [one.scale for one in found])
    fine = [one for one in found if mixed.total_g >= one.refuse_below_g - STEP_GUARD]
    if not found or any(one.scale in able for one in fine):
        return []
    # A scale that is fine enough but too weak is named before one that is too coarse.
    weak = [one.scale for one in fine] or ([] if able else [one.scale for one in found])
    if weak:
        return [_too_heavy(mixed, max(weak, key=lambda scale: scale.capacity_g))]
    best = next(one for one in found if one.scale in able)
    limit = fixed(best.refuse_below_g, 1)
    return [OrderProblem("total", "below_smallest", mixed.value, limit, best.scale.code)]


def _too_heavy(mixed: Mixed, scale: ScaleCard) -> OrderProblem:
    most_g = floor(_room_g(mixed, scale) * 10 + STEP_GUARD) / 10
    return OrderProblem("total", "over_scale", mixed.value, f"{most_g:g}", scale.code)
