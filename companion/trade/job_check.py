"""A typed job checked field by field: out comes what is to be made, or every problem at once.

Whether its cups can be held and judged is the plan's to say: a job may be kept without.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from .cards import Additive, ReleaseAgent, ScaleCard, SystemCard
from .constants import STEP_GUARD
from .cup_sizes import MOST_CUPS, NoSuchPlan, cup_limits
from .errors import OutOfRange
from .form_reading import Bounds, FieldProblem, Reading
from .job_form import TypedJob, TypedPly, ply_field, share_of
from .job_order import MOST_LAYERS, CoatOrder, JobOrder, PlyOrder, layer_by_layer
from .plan import plan
from .steps import steps

LONGEST_CODE, LONGEST_PART = 20, 80
_CODE = re.compile(r"[\w-]{1,20}\Z")
_SIZE = Bounds("0.01", "100", needed=False)
_CONTENT = Bounds("5", "95")
#: Bounds of the figures; wide on purpose, a slip of the decimal mark still falls out of most.
BOUNDS: Mapping[str, Bounds] = {
    "area_m2": Bounds("0.0001", "1000"),
    "resin_pct": _CONTENT,
    "coat_g_m2": Bounds("1", "5000"),
    "coat_tools_g": Bounds("0", "10000", needed=False),
    "peel_ply_g_m2": Bounds("0", "1000", needed=False),
    "tools_g": Bounds("0", "10000", needed=False),
    "loss_per_cup_g": Bounds("0", "1000", needed=False),
    "fibre_density_g_cm3": Bounds("0.5", "10"),
    "resin_density_g_cm3": Bounds("0.5", "3"),
    "length_m": _SIZE,
    "width_m": _SIZE,
    "cut_margin_m": Bounds("0", "1", needed=False),
    "cups": Bounds("1", str(MOST_CUPS), needed=False),
    "least_cup_g": Bounds("0", "10000", needed=False),
}
_LAYERS, _ANGLE = Bounds("1", str(MOST_LAYERS)), Bounds("-90", "90")
_OWN_CONTENT = Bounds("5", "95", needed=False)
AREAL_WEIGHT, FIBRE = Bounds("1", "10000"), Bounds("0.5", "10")


@dataclass(frozen=True, slots=True)
class ClothFigures:
    """What a ply takes over from its cloth; a density of None is the job's own."""

    areal_weight_g_m2: float
    fibre_density_g_cm3: float | None = None


@dataclass(frozen=True, slots=True)
class JobChoices:
    """What a job may name, each by its code, newest cards.

    :ivar taken: codes of other jobs.
    :ivar scale: the finest of the shop; None if there is none.
    :ivar empty_cup_g: heaviest empty cup of the shop, which the scale carries, too.
    """

    systems: Mapping[str, SystemCard]
    cloths: Mapping[str, ClothFigures]
    release_agents: Mapping[str, ReleaseAgent]
    additives: Mapping[str, Additive]
    customers: frozenset[str]
    taken: frozenset[str]
    scale: ScaleCard | None
    empty_cup_g: float = 0.0


@dataclass(frozen=True, slots=True)
class CheckedJob:
    """What is to be made, or the problems of the form."""

    problems: tuple[FieldProblem, ...]
    order: JobOrder | None = None


def check_job(
    typed: TypedJob, choices: JobChoices, *, serial: str = "", exact: bool = False
) -> CheckedJob:
    """Check a job.

    :param serial: kept with the order; the form does not ask for it.
    :param exact: whether the figures come out of a file and keep all their digits.
    """
    read = Reading(exact)
    _check_code(read, typed.code, choices)
    read.text("part", typed.part, LONGEST_PART)
    read.choice("customer", typed.customer, choices.customers)
    figures = {name: read.number(name, getattr(typed, name), BOUNDS[name]) for name in _PLAIN}
    share = read.figure("resin_pct", typed.resin_pct, _CONTENT)
    system = read.choice("system", typed.system, choices.systems, needed=True)
    coat = _coat(read, typed, choices)
    agent = read.choice("release_agent", typed.release_agent, choices.release_agents)
    cups = read.whole("cups", typed.cups, BOUNDS["cups"])
    plies = _plies(read, typed, choices)
    if read.problems:
        return CheckedJob(tuple(read.problems))
    order = JobOrder(
        job=typed.code.strip(),
        part=typed.part.strip(),
        resin_mass_fraction=share_of(share),
        plies=plies,
        system=system,
        serial=serial,
        surface_coat=coat,
        cups=cups,
        release_agent=agent,
        **{name: value for name, value in figures.items() if value is not None},
    )
    wrong = _as_a_whole(order, choices)
    return CheckedJob(wrong, None if wrong else order)


_PLAIN = tuple(
    name for name in BOUNDS if name not in ("resin_pct", "coat_g_m2", "coat_tools_g", "cups")
)


def _check_code(read: Reading, typed: str, choices: JobChoices) -> None:
    code = typed.strip()
    if not _CODE.match(code):
        read.problems.append(FieldProblem("code", "code", code, "1", str(LONGEST_CODE)))
    elif code in choices.taken:
        read.problems.append(FieldProblem("code", "taken", code))


def _coat(read: Reading, typed: TypedJob, choices: JobChoices) -> CoatOrder | None:
    system = read.choice("coat_system", typed.coat_system, choices.systems)
    if not typed.coat_system:
        for name in ("coat_g_m2", "coat_tools_g", "additive", "additive_pct"):
            if getattr(typed, name).strip():
                read.problems.append(FieldProblem(name, "no_coat", getattr(typed, name).strip()))
        return None
    coat = read.number("coat_g_m2", typed.coat_g_m2, BOUNDS["coat_g_m2"])
    tools_g = read.number("coat_tools_g", typed.coat_tools_g, BOUNDS["coat_tools_g"])
    additive = read.choice("additive", typed.additive, choices.additives)
    share_pct = _additive_pct(read, typed.additive_pct, choices.additives.get(additive))
    return CoatOrder(system, coat or 0.0, tools_g or 0.0, additive, share_pct)


def _additive_pct(read: Reading, typed: str, card: Additive | None) -> float:
    """Share of part A; a paste needs one, and none is needed without a paste."""
    name, text = "additive_pct", typed.strip()
    if card is None:
        if text:
            read.problems.append(FieldProblem(name, "no_additive", text))
        return 0.0
    value = read.number(name, text, Bounds("0.01", "100"))
    if value is not None and value > card.cap_pct + STEP_GUARD:
        cap = f"{card.cap_pct:g}"
        read.problems.append(FieldProblem(name, "over_cap", text, "0.01", cap, card.code))
    return value or 0.0


def _plies(read: Reading, typed: TypedJob, choices: JobChoices) -> tuple[PlyOrder, ...]:
    count = len(typed.plies)
    if not 1 <= count <= MOST_LAYERS:
        read.problems.append(FieldProblem("plies", "plies", str(count), "1", str(MOST_LAYERS)))
        return ()
    found = tuple(_ply(read, n, row, choices) for n, row in enumerate(typed.plies, 1))
    layers = sum(ply.layers for ply in found)
    if layers > MOST_LAYERS:
        read.problems.append(FieldProblem("plies", "plies", str(layers), "1", str(MOST_LAYERS)))
    return found


def _ply(read: Reading, number: int, row: TypedPly, choices: JobChoices) -> PlyOrder:
    def name(field: str) -> str:
        return ply_field(number, field)

    cloth = read.choice(name("cloth"), row.cloth, choices.cloths, needed=True)
    known = choices.cloths.get(cloth, ClothFigures(1.0))
    _check_cloth(read, name("cloth"), known)
    layers = read.whole(name("layers"), row.layers, _LAYERS)
    share = read.figure(name("resin_pct"), row.resin_pct, _OWN_CONTENT)
    return PlyOrder(
        cloth=cloth,
        areal_weight_g_m2=known.areal_weight_g_m2,
        layers=layers or 1,
        resin_mass_fraction=share_of(share) if share else None,
        fibre_density_g_cm3=known.fibre_density_g_cm3,
        angle_deg=read.number(name("angle_deg"), row.angle_deg, _ANGLE) or 0.0,
        length_m=read.number(name("length_m"), row.length_m, _SIZE),
        width_m=read.number(name("width_m"), row.width_m, _SIZE),
    )


def _check_cloth(read: Reading, name: str, cloth: ClothFigures) -> None:
    """Figures of a cloth without a card come from a file, and may be anything."""
    for problem, value, bounds in (
        ("areal_weight", cloth.areal_weight_g_m2, AREAL_WEIGHT),
        ("fibre_density", cloth.fibre_density_g_cm3 or 1.0, FIBRE),
    ):
        if not float(bounds.low) <= value <= float(bounds.high):
            wrong = FieldProblem(name, problem, f"{value:g}", bounds.low, bounds.high)
            read.problems.append(wrong)


def _as_a_whole(order: JobOrder, choices: JobChoices) -> tuple[FieldProblem, ...]:
    """What only the whole job shows: steps that cannot be told, cups that hold nothing."""
    try:
        steps(order, choices.release_agents)
        if choices.scale:
            layers = layer_by_layer(order)
            plan(layers, choices.systems, choices.scale, None, choices.empty_cup_g)
    except NoSuchPlan:
        return ()
    except OutOfRange as error:
        return (_whole_problem(error, order, choices),)
    return ()


def _whole_problem(error: OutOfRange, order: JobOrder, choices: JobChoices) -> FieldProblem:
    value = str(error.value)
    if error.field == "cups":
        return FieldProblem("cups", "too_many", value, "1", str(MOST_CUPS))
    if error.field == "loss_per_cup_g" and choices.scale:
        coat = order.surface_coat
        codes = [order.system, *([coat.system] if coat else [])]
        scale, empty_cup_g = choices.scale, choices.empty_cup_g
        limits = [cup_limits(choices.systems[code], scale, None, empty_cup_g) for code in codes]
        least = f"{min(one.largest_g for one in limits):g}"
        return FieldProblem(error.field, "over_largest", value, high=least)
    return FieldProblem(error.field, "as_a_whole", value, allowed=error.allowed)
