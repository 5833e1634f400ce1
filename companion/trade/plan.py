"""From a part to its cups: resin of every ply, split into cups this shop can hold and judge.

A cup is never larger than its system allows and never smaller than the scale can judge; between
the two, as few and as equal as may be. Loss per cup is what stays in it; tools are what brush and
roller soak up. Cups follow the plies in their order: each names the plies its resin goes into.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .cards import ScaleCard, SystemCard
from .constants import STEP_GUARD
from .cup_sizes import (
    Limits,
    NoSuchPlan,
    Split,
    at_least,
    cup_limits,
    fewest,
    nearest_split,
    require_zero_or_more,
    split,
)
from .errors import OutOfRange, require_positive
from .job_order import MOST_LAYERS, JobOrder, PlyOrder
from .laminate import (
    Ply,
    fibre_g,
    fibre_volume_fraction,
    require_content,
    resin_g,
    stack_fibre_mass_fraction,
    thickness_mm,
)
from .plan_cautions import Mix, plan_cautions
from .ratio import targets

MOST_PLIES = 200
#: Steps that resin is mixed for; the words of a screen are its own.
SURFACE_COAT, LAMINATE = "surface_coat", "laminate"


@dataclass(frozen=True, slots=True)
class PlanCup:
    """One cup to be mixed.

    :ivar step: surface coat or laminate.
    :ivar system: name of the card with its revision.
    :ivar plies: places in the job's list of plies, from 0, that its resin goes into.
    """

    step: str
    system: str
    part_a_g: float
    part_b_g: float
    total_g: float
    plies: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """What a job takes.

    :ivar needed_g: laminate resin with peel ply and tools, without what stays in the cups.
    :ivar surplus_g: what all cups hold beyond the need, where no smaller one is mixed.
    :ivar cautions: what must be said beside it, by name.
    """

    cups: tuple[PlanCup, ...]
    reinforcement_g: float
    laminate_resin_g: float
    peel_ply_g: float
    needed_g: float
    surplus_g: float
    fibre_volume_fraction: float
    fibre_mass_fraction: float
    resin_mass_fraction: float
    laminate_mm: float
    cautions: tuple[str, ...]


def plan(
    job: JobOrder,
    systems: Mapping[str, SystemCard],
    scale: ScaleCard,
    temperature_c: float | None = None,
    empty_cup_g: float = 0.0,
) -> Plan:
    """Plan a job.

    :param systems: cards by the code a job names.
    :param scale: the scale the cups are weighed on.
    :param temperature_c: of the shop; warmer than the sheet makes the largest cup smaller.
    :param empty_cup_g: heaviest empty cup of the shop, which the scale carries, too.
    :raises OutOfRange: a figure of the job, or a system, that cannot be.
    :raises NoSuchPlan: cups that cannot be held or judged, with the nearest that can.
    :source: design of the job file; the hatch cover in tests/trade/test_plan.py.
    """
    plies = _plies(job)
    needs_g = [resin_g(ply, job.area_m2) for ply in plies]
    peel_g = job.area_m2 * job.peel_ply_g_m2
    needed_g = sum(needs_g) + peel_g + job.tools_g
    card = _card("system", job.system, systems)
    limits = cup_limits(card, scale, temperature_c, empty_cup_g)
    found = _split(LAMINATE, needed_g, job, limits, job.cups)
    cups = [_cup(LAMINATE, card, found.each_g, spans) for spans in _shares(needs_g, found.cups)]
    coat_cups, coat_surplus_g = _coat(job, systems, scale, temperature_c, empty_cup_g)
    cups, surplus_g = [*coat_cups, *cups], found.surplus_g + coat_surplus_g
    said = plan_cautions(_mixes(cups, systems), scale, temperature_c)
    fibre_share = stack_fibre_mass_fraction(plies)
    return Plan(
        cups=tuple(cups),
        reinforcement_g=fibre_g(plies, job.area_m2),
        laminate_resin_g=sum(needs_g),
        peel_ply_g=peel_g,
        needed_g=needed_g,
        surplus_g=surplus_g,
        fibre_volume_fraction=fibre_volume_fraction(plies, job.resin_density_g_cm3),
        fibre_mass_fraction=fibre_share,
        resin_mass_fraction=1 - fibre_share,
        laminate_mm=thickness_mm(plies, job.resin_density_g_cm3),
        cautions=(*said, *(["left_over"] if surplus_g > STEP_GUARD else [])),
    )


def _with_cards(
    cups: Sequence[PlanCup], job: JobOrder, systems: Mapping[str, SystemCard]
) -> list[tuple[SystemCard, float]]:
    coat = job.surface_coat
    code = {LAMINATE: job.system, SURFACE_COAT: coat.system if coat else ""}
    return [(systems[code[cup.step]], cup.total_g) for cup in cups]


def _plies(job: JobOrder) -> list[Ply]:
    if not 1 <= len(job.plies) <= MOST_PLIES:
        raise OutOfRange("plies", len(job.plies), f"1 to {MOST_PLIES}")
    require_positive("area_m2", job.area_m2)
    for name in ("peel_ply_g_m2", "tools_g", "loss_per_cup_g", "least_cup_g"):
        require_zero_or_more(name, getattr(job, name))
    return [_ply(one, job) for one in job.plies]


def _ply(one: PlyOrder, job: JobOrder) -> Ply:
    share = job.resin_mass_fraction if one.resin_mass_fraction is None else one.resin_mass_fraction
    require_content("resin_mass_fraction", share)
    if not 1 <= one.layers <= MOST_LAYERS:
        raise OutOfRange("layers", one.layers, f"1 to {MOST_LAYERS}")
    density = one.fibre_density_g_cm3 or job.fibre_density_g_cm3
    return Ply(one.areal_weight_g_m2, 1 - share, density, one.layers)


def _card(field: str, code: str, systems: Mapping[str, SystemCard]) -> SystemCard:
    if code not in systems:
        raise OutOfRange(field, code, ", ".join(sorted(systems)) or "a system on record; none is")
    return systems[code]


def _coat(
    job: JobOrder,
    systems: Mapping[str, SystemCard],
    scale: ScaleCard,
    temperature_c: float | None,
    empty_cup_g: float,
) -> tuple[list[PlanCup], float]:
    """Cups of the surface coat, and what they hold beyond its need."""
    coat = job.surface_coat
    if coat is None:
        return [], 0.0
    require_positive("coat_g_m2", coat.coat_g_m2)
    require_zero_or_more("tools_g", coat.tools_g)
    card = _card("surface_coat.system", coat.system, systems)
    require_zero_or_more("additive_pct", coat.additive_pct)
    # The paste comes on top of A and B, and cup and scale must hold it too.
    share = coat.additive_pct / 100 / (1 + card.ratio)
    limits = cup_limits(card, scale, temperature_c, empty_cup_g, share)
    needed_g = job.area_m2 * coat.coat_g_m2 + coat.tools_g
    found = _split(SURFACE_COAT, needed_g, job, limits, None)
    return [_cup(SURFACE_COAT, card, found.each_g, ())] * found.cups, found.surplus_g


def _split(step: str, needed_g: float, job: JobOrder, limits: Limits, asked: int | None) -> Split:
    loss_g = job.loss_per_cup_g
    best = fewest(needed_g, loss_g, limits.largest_g)
    asked_for = best if asked is None else split(needed_g, loss_g, asked)
    wanted = at_least(asked_for, job.least_cup_g)
    if limits.smallest_g - STEP_GUARD <= wanted.each_g <= limits.largest_g + STEP_GUARD:
        return wanted
    least_g = job.least_cup_g if job.least_cup_g <= limits.largest_g else 0.0
    nearest = nearest_split(at_least(best, least_g), limits)
    if nearest and nearest.surplus_g:
        least_g = nearest.each_g
    raise NoSuchPlan(step, wanted, limits, nearest, least_g)


def _cup(step: str, card: SystemCard, total_g: float, plies: tuple[int, ...]) -> PlanCup:
    found = targets(total_g, card.ratio)
    return PlanCup(step, card.name, found.part_a_g, found.part_b_g, total_g, plies)


def _shares(needs_g: Sequence[float], cups: int) -> list[tuple[int, ...]]:
    """Plies that each of so many equal cups goes into, in their order."""
    whole_g, edges, so_far_g = sum(needs_g), [0.0], 0.0
    for need_g in needs_g:
        so_far_g += need_g
        edges.append(so_far_g)
    spans = [(cup * whole_g / cups, (cup + 1) * whole_g / cups) for cup in range(cups)]
    guard_g = whole_g * STEP_GUARD
    return [
        tuple(
            place
            for place in range(len(needs_g))
            if edges[place] < end_g - guard_g and begin_g < edges[place + 1] - guard_g
        )
        for begin_g, end_g in spans
    ]


def _mixes(cups: Sequence[PlanCup], systems: Mapping[str, SystemCard]) -> list[Mix]:
    by_name = {card.name: card for card in systems.values()}
    return [(by_name[cup.system], cup.total_g) for cup in cups]
