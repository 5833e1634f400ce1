"""A job worked out for one scale and one temperature: its plan, or why there is none."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from .cards import ScaleCard, SystemCard
from .cup_sizes import NoSuchPlan
from .errors import OutOfRange
from .job_figures import (
    Need,
    SystemTimes,
    additive_g,
    additive_of,
    needs,
    step_of,
    system_times,
)
from .job_order import JobOrder, layer_by_layer
from .judgement import Judgement, judgements
from .numbers import fixed
from .order import Order, planned_targets
from .paste_order import planned_paste_g
from .plan import Plan, PlanCup, plan
from .plan_cautions import plan_cautions
from .section import Layer, layers
from .weighing import Pour


@dataclass(frozen=True, slots=True)
class OutlookCup:
    """One cup of the plan.

    :ivar step: of the lay-up sheet.
    :ivar total: A and B, grams with one decimal, as it is ordered.
    :ivar additive: code of the paste in its part A, empty if none; ``additive_g`` comes on top.
    :ivar first_ply: its resin goes into, from 1, and ``last_ply``; 0 for a coat.
    :ivar drawn: the cup in section, full at the largest cup of its system.
    """

    cup: PlanCup
    step: str
    total: str
    additive: str
    additive_g: float
    first_ply: int
    last_ply: int
    drawn: tuple[Layer, ...]


@dataclass(frozen=True, slots=True)
class OfSystem:
    """One system of a job: its times, and what the scale judges of it."""

    card: SystemCard
    times: SystemTimes
    judgement: Judgement


@dataclass(frozen=True, slots=True)
class Outlook:
    """What a job takes at a temperature.

    :ivar temperature_c: None for those of the sheets.
    :ivar made: None where there is no plan; then ``refused`` or ``wrong`` says why.
    :ivar systems: surface coat first, each once.
    :ivar cautions: what must be said beside its cups, by name.
    """

    temperature_c: float | None
    scale: ScaleCard
    made: Plan | None
    refused: NoSuchPlan | None
    wrong: OutOfRange | None
    cups: tuple[OutlookCup, ...]
    needs: tuple[Need, ...]
    systems: tuple[OfSystem, ...]
    cautions: tuple[str, ...]

    @property
    def total_g(self) -> float:
        """Part A and part B of all cups."""
        return sum(one.cup.total_g for one in self.cups)


def outlook(
    order: JobOrder,
    systems: Mapping[str, SystemCard],
    scale: ScaleCard,
    temperature_c: float | None = None,
    empty_cup_g: float = 0.0,
) -> Outlook:
    """Work a job out, layer by layer.

    :param systems: newest cards by code.
    :param empty_cup_g: heaviest empty cup of the shop, which the scale carries, too.
    """
    made, refused, wrong = None, None, None
    try:
        made = plan(layer_by_layer(order), systems, scale, temperature_c, empty_cup_g)
    except NoSuchPlan as error:
        refused = error
    except OutOfRange as error:
        wrong = error
    by_name = {card.name: card for card in systems.values()}
    return Outlook(
        temperature_c=temperature_c,
        scale=scale,
        made=made,
        refused=refused,
        wrong=wrong,
        cups=tuple(_cup(cup, order, by_name[cup.system]) for cup in made.cups) if made else (),
        needs=needs(made, order, by_name) if made else (),
        systems=tuple(
            _of_system(card, scale, temperature_c, empty_cup_g) for card in _used(order, systems)
        ),
        cautions=made.cautions if made else (),
    )


def ordered_cup(order: Order, card: SystemCard) -> OutlookCup:
    """A cup that stands ordered, by the revision of its system it was ordered with.

    :param order: of one cup, as it was checked.
    :raises OutOfRange: a total that is not a number above zero.
    """
    found = planned_targets(order.total, card)
    total_g = found.part_a_g + found.part_b_g
    paste_g = planned_paste_g(found, order.additive_pct) or 0.0
    pours = [Pour("a", found.part_a_g), Pour(order.additive, paste_g), Pour("b", found.part_b_g)]
    return OutlookCup(
        cup=PlanCup(order.step, card.name, found.part_a_g, found.part_b_g, total_g, ()),
        step=order.step,
        total=order.total,
        additive=order.additive,
        additive_g=paste_g,
        first_ply=0,
        last_ply=0,
        drawn=layers(pours, max(card.largest_cup_g, total_g + paste_g)),
    )


def poured_as(ordered: OutlookCup, planned: OutlookCup) -> OutlookCup:
    """An ordered cup with the plies the cup of its plan goes into."""
    return replace(ordered, first_ply=planned.first_ply, last_ply=planned.last_ply)


def planned_needs(
    card: SystemCard, total: str, additive: str, additive_pct: str
) -> tuple[Need, ...]:
    """What one planned cup takes of each material; nothing where its total cannot be read.

    :param total: part A and part B, grams, text; the paste comes on top.
    """
    try:
        found = planned_targets(total, card)
    except OutOfRange:
        return ()
    paste_g = planned_paste_g(found, additive_pct)
    paste = (Need(additive, paste_g),) if additive and paste_g else ()
    return (Need(card.resin, found.part_a_g), Need(card.hardener, found.part_b_g), *paste)


def largest_needs(views: Sequence[Outlook]) -> tuple[Need, ...]:
    """The larger need of every material, for any of these views may be ordered."""
    found: dict[str, float] = {}
    for need in (need for view in views for need in view.needs):
        found[need.material] = max(found.get(need.material, 0.0), need.mass_g)
    return tuple(Need(material, mass_g) for material, mass_g in found.items())


def ordered_outlook(
    cups: Sequence[OutlookCup],
    systems: Mapping[str, SystemCard],
    scale: ScaleCard,
    temperature_c: float | None = None,
    empty_cup_g: float = 0.0,
) -> Outlook:
    """What holds for cups that stand ordered, on a scale and in a shop of this temperature.

    :param systems: cards by name with revision, as the cups name them.
    """
    cards = [systems[name] for name in dict.fromkeys(one.cup.system for one in cups)]
    mixed = [(systems[one.cup.system], one.cup.total_g) for one in cups]
    return Outlook(
        temperature_c=temperature_c,
        scale=scale,
        made=None,
        refused=None,
        wrong=None,
        cups=tuple(cups),
        needs=(),
        systems=tuple(_of_system(card, scale, temperature_c, empty_cup_g) for card in cards),
        cautions=plan_cautions(mixed, scale, temperature_c),
    )


def _cup(cup: PlanCup, order: JobOrder, card: SystemCard) -> OutlookCup:
    paste, paste_g = additive_of(cup, order), additive_g(cup, order)
    pours = [Pour("a", cup.part_a_g), Pour(paste, paste_g), Pour("b", cup.part_b_g)]
    return OutlookCup(
        cup=cup,
        step=step_of(cup),
        total=fixed(cup.total_g, 1),
        additive=paste,
        additive_g=paste_g,
        first_ply=cup.plies[0] + 1 if cup.plies else 0,
        last_ply=cup.plies[-1] + 1 if cup.plies else 0,
        drawn=layers(pours, max(card.largest_cup_g, cup.total_g + paste_g)),
    )


def _used(order: JobOrder, systems: Mapping[str, SystemCard]) -> Sequence[SystemCard]:
    codes = [order.surface_coat.system] if order.surface_coat else []
    return [systems[code] for code in dict.fromkeys([*codes, order.system]) if code in systems]


def _of_system(
    card: SystemCard, scale: ScaleCard, temperature_c: float | None, empty_cup_g: float
) -> OfSystem:
    try:
        times = system_times(card, scale, temperature_c, empty_cup_g)
    except OutOfRange:
        # A card whose points contradict each other tells no time in this shop.
        times = SystemTimes(card.largest_cup_g)
    return OfSystem(card, times, judgements(card, [scale])[0])
