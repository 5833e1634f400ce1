"""An order of cups: typed in the office, and refused where no cup could come of it.

A cup must be large enough for a scale of the shop to judge it, and small enough for the system
and for the empty cup. What is wrong is said field by field; nothing is guessed or put right.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from .cards import Additive, CupType, ScaleCard, SystemCard
from .constants import STEP_GUARD, WARN_SHARE
from .cup.limits import largest_g
from .numbers import Entry, fixed, is_wire_number, parse_entry, up_to_tenth
from .order_problem import OrderProblem, figure_problems
from .paste_order import check_paste, written_g
from .ratio import Targets, targets
from .weighing import reading_variance_g2, smallest_cup_g

MOST_CUPS = 24
LONGEST_STEP = 80
# An empty cup is of its type if it weighs half to twice as much; common practice, no source.
_LIGHTEST_SHARE, _HEAVIEST_SHARE = 0.5, 2.0
# Heaviest empty cup where its type is not known, grams; common practice, no source.
_HEAVIEST_CUP_G = 500.0


@dataclass(frozen=True, slots=True)
class Order:
    """What was typed or chosen, untouched."""

    system: str = ""
    total: str = ""
    count: str = ""
    job: str = ""
    step: str = ""
    cup_type: str = ""
    cup_mass: str = ""
    additive: str = ""
    additive_pct: str = ""


@dataclass(frozen=True, slots=True)
class Choices:
    """What can be chosen: the newest cards, by the name that stands in a plan."""

    systems: Mapping[str, SystemCard]
    scales: Sequence[ScaleCard]
    cup_types: Mapping[str, CupType]
    jobs: frozenset[str]
    additives: Mapping[str, Additive] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Judgement:
    """What one scale can judge of one system: smallest cups, grams, rounded up to 0.1 g."""

    scale: ScaleCard
    refuse_below_g: float
    warn_below_g: float


@dataclass(frozen=True, slots=True)
class CheckedOrder:
    """An order ready to be planned, or its problems.

    Masses are text with a point; ``proves_in_part`` is the scale that judges best where even it
    cannot prove the whole tolerance.
    """

    problems: tuple[OrderProblem, ...]
    total: str = ""
    count: int = 0
    cup_mass: str = ""
    step: str = ""
    additive_pct: str = ""
    proves_in_part: Judgement | None = None


def planned_targets(total: str, system: SystemCard) -> Targets:
    """Masses of the two parts of a planned cup, grams, unrounded.

    :raises OutOfRange: the total is not a number above zero.
    """
    return targets(float(total) if is_wire_number(total) else 0.0, system.ratio)


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


def check_order(order: Order, choices: Choices) -> CheckedOrder:
    """Check an order.

    :param order: as typed.
    :param choices: the cards of the shop.
    :return: the order with its figures read, or every problem at once.
    """
    system = choices.systems.get(order.system)
    cup_type = choices.cup_types.get(order.cup_type)
    total, count, cup_mass = map(parse_entry, (order.total, order.count, _mass(order)))
    step = order.step.strip()
    count_wrong = _count(count, order.count)
    several = not count_wrong and count.number != 1
    part_a_g = _part_a_g(total, system)
    paste = check_paste(order.additive, order.additive_pct, choices.additives, part_a_g)
    paste_g = paste.paste_g(part_a_g or 0.0)
    problems = [
        *_unknown("system", order.system, system is None),
        *_total(total, order.total, system, cup_type, choices.scales, paste_g),
        *count_wrong,
        *_unknown("job", order.job, bool(order.job) and order.job not in choices.jobs),
        *_step(step),
        *_unknown("cup_type", order.cup_type, bool(order.cup_type) and cup_type is None),
        *_cup_mass(cup_mass, order.cup_mass, cup_type, several),
        *paste.problems,
    ]
    if problems or system is None:
        return CheckedOrder(tuple(problems))
    return CheckedOrder(
        problems=(),
        total=total.value,
        count=int(count.number),
        cup_mass=cup_mass.value if order.cup_mass.strip() else "",
        step=step,
        additive_pct=paste.pct,
        proves_in_part=_in_part(total.number, judgements(system, choices.scales)),
    )


def _mass(order: Order) -> str:
    """A cup mass that was left out is no problem."""
    return order.cup_mass.strip() or "1"


def _unknown(field: str, value: str, unknown: bool) -> list[OrderProblem]:
    return [OrderProblem(field, "unknown", value)] if unknown else []


def _part_a_g(total: Entry, system: SystemCard | None) -> float | None:
    """Planned part A, grams; None where total or system are not known."""
    if system is None or figure_problems("total", total, total.value):
        return None
    return targets(total.number, system.ratio).part_a_g


def _total(
    entry: Entry,
    typed: str,
    system: SystemCard | None,
    cup_type: CupType | None,
    scales: Sequence[ScaleCard],
    paste_g: float,
) -> list[OrderProblem]:
    """The paste takes room in the cup; the scale judges part A and part B alone."""
    wrong = figure_problems("total", entry, typed)
    if wrong or system is None:
        return wrong
    most_g = largest_g(system, cup_type.volume_ml if cup_type else None)
    if entry.number + paste_g > most_g + STEP_GUARD:
        return [_too_large(entry, system, cup_type, most_g, paste_g)]
    best = next(iter(judgements(system, scales)), None)
    if best and entry.number < best.refuse_below_g - STEP_GUARD:
        limit = fixed(best.refuse_below_g, 1)
        return [OrderProblem("total", "below_smallest", entry.value, limit, best.scale.code)]
    return []


def _too_large(
    entry: Entry, system: SystemCard, cup_type: CupType | None, most_g: float, paste_g: float
) -> OrderProblem:
    of_system = most_g == system.largest_cup_g or not cup_type
    owner = system.name if of_system or not cup_type else cup_type.code
    problem = "over_largest" if of_system else "over_volume"
    if paste_g > 0:
        problem, paste = f"{problem}_with_paste", written_g(paste_g)
        return OrderProblem("total", problem, entry.value, _plain(most_g), owner, paste)
    return OrderProblem("total", problem, entry.value, _plain(most_g), owner)


def _count(entry: Entry, typed: str) -> list[OrderProblem]:
    whole = not entry.problem and entry.decimals == 0 and 1 <= entry.number <= MOST_CUPS
    return [] if whole else [OrderProblem("count", "count", typed.strip(), str(MOST_CUPS))]


def _step(step: str) -> list[OrderProblem]:
    if len(step) > LONGEST_STEP:
        return [OrderProblem("step", "too_long", step, str(LONGEST_STEP))]
    # The log refuses what cannot be printed on a label.
    control = any(ord(character) < 32 for character in step)
    return [OrderProblem("step", "control", step)] if control else []


def _cup_mass(
    entry: Entry, typed: str, cup_type: CupType | None, several: bool
) -> list[OrderProblem]:
    if not typed.strip():
        return []
    wrong = figure_problems("cup_mass", entry, typed)
    if wrong:
        return wrong
    if several:
        return [OrderProblem("cup_mass", "several", entry.value)]
    if cup_type is None:
        heavy = entry.number > _HEAVIEST_CUP_G
        limit = fixed(_HEAVIEST_CUP_G, 0)
        return [OrderProblem("cup_mass", "heavy", entry.value, limit)] if heavy else []
    share = entry.number / cup_type.mass_g
    if _LIGHTEST_SHARE <= share <= _HEAVIEST_SHARE:
        return []
    return [
        OrderProblem("cup_mass", "of_type", entry.value, _plain(cup_type.mass_g), cup_type.code)
    ]


def _in_part(total_g: float, found: Sequence[Judgement]) -> Judgement | None:
    warned = [judgement for judgement in found if total_g < judgement.warn_below_g - STEP_GUARD]
    return found[0] if found and len(warned) == len(found) else None


def _plain(value: float) -> str:
    return f"{value:g}"
