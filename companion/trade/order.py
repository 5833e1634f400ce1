"""An order of cups: typed in the office, and refused where no cup could come of it.

A cup must be large enough for a scale of the shop to judge it, and small enough for the system
and for the empty cup. What is wrong is said field by field; nothing is guessed or put right.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from .cards import Additive, CupType, ScaleCard, SystemCard
from .constants import STEP_GUARD
from .judgement import Judgement, heaviest_cup_g, judgements
from .numbers import Entry, fixed, is_wire_number, parse_entry
from .order_problem import OrderProblem, figure_problems
from .order_room import Mixed, carrying, room_problems
from .paste_order import CheckedPaste, check_paste
from .plan_cautions import mix_cautions
from .ratio import Targets, targets

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
class CheckedOrder:
    """An order ready to be planned, or its problems.

    Masses are text with a point; ``proves_in_part`` is the scale that judges best where even it
    cannot prove the whole tolerance. ``cautions`` are names of what must be said beside the
    cups, told as soon as the system is known.
    """

    problems: tuple[OrderProblem, ...]
    total: str = ""
    count: int = 0
    cup_mass: str = ""
    step: str = ""
    additive_pct: str = ""
    proves_in_part: Judgement | None = None
    cautions: tuple[str, ...] = ()


def planned_targets(total: str, system: SystemCard) -> Targets:
    """Masses of the two parts of a planned cup, grams, unrounded.

    :raises OutOfRange: the total is not a number above zero.
    """
    return targets(float(total) if is_wire_number(total) else 0.0, system.ratio)


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
    mixed = _mixed(order, choices, part_a_g, paste)
    problems = [
        *_unknown("system", order.system, system is None),
        *_total(total, order.total, mixed, choices.scales),
        *count_wrong,
        *_unknown("job", order.job, bool(order.job) and order.job not in choices.jobs),
        *_step(step),
        *_unknown("cup_type", order.cup_type, bool(order.cup_type) and cup_type is None),
        *_cup_mass(cup_mass, order.cup_mass, cup_type, several),
        *paste.problems,
    ]
    cautions = mix_cautions([(system, mixed.total_g if mixed else 0.0)]) if system else ()
    if problems or system is None or mixed is None:
        return CheckedOrder(tuple(problems), cautions=cautions)
    return CheckedOrder(
        problems=(),
        total=total.value,
        count=int(count.number),
        cup_mass=cup_mass.value if order.cup_mass.strip() else "",
        step=step,
        additive_pct=paste.pct,
        proves_in_part=_in_part(total.number, judgements(system, carrying(mixed, choices.scales))),
        cautions=cautions,
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
    mixed: Mixed | None,
    scales: Sequence[ScaleCard],
) -> list[OrderProblem]:
    wrong = figure_problems("total", entry, typed)
    return wrong if wrong or mixed is None else room_problems(mixed, scales)


def _mixed(
    order: Order, choices: Choices, part_a_g: float | None, paste: CheckedPaste
) -> Mixed | None:
    """The cup as it will stand on a scale; None where total or system are not known."""
    system, total = choices.systems.get(order.system), parse_entry(order.total)
    if system is None or part_a_g is None:
        return None
    cup_type, given = choices.cup_types.get(order.cup_type), parse_entry(order.cup_mass)
    return Mixed(
        system=system,
        total_g=total.number,
        value=total.value,
        paste_g=paste.paste_g(part_a_g),
        cup_type=cup_type,
        empty_cup_g=_empty_cup_g(order, given, cup_type, choices),
    )


def _empty_cup_g(order: Order, given: Entry, cup_type: CupType | None, choices: Choices) -> float:
    """What the empty cup weighs: as it was weighed, else its type, else the heaviest on record."""
    if order.cup_mass.strip() and not figure_problems("cup_mass", given, order.cup_mass):
        return given.number
    return cup_type.mass_g if cup_type else heaviest_cup_g(choices.cup_types.values())


def _count(entry: Entry, typed: str) -> list[OrderProblem]:
    whole = not entry.problem and entry.decimals == 0 and 1 <= entry.number <= MOST_CUPS
    return [] if whole else [OrderProblem("count", "count", typed.strip(), str(MOST_CUPS))]


def _step(step: str) -> list[OrderProblem]:
    if len(step) > LONGEST_STEP:
        return [OrderProblem("step", "too_long", step, str(LONGEST_STEP))]
    # The log refuses what cannot be printed on a label.
    return [] if step.isprintable() else [OrderProblem("step", "control", step)]


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
    return [OrderProblem("cup_mass", "of_type", entry.value, f"{cup_type.mass_g:g}", cup_type.code)]


def _in_part(total_g: float, found: Sequence[Judgement]) -> Judgement | None:
    warned = [judgement for judgement in found if total_g < judgement.warn_below_g - STEP_GUARD]
    return found[0] if found and len(warned) == len(found) else None
