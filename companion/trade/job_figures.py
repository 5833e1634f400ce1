"""What a plan means beside its cups: materials, times in a shop of some temperature, the stack.

A figure that is not on a card stays None: "not on the card, see the data sheet".
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

from .cards import ScaleCard, SystemCard
from .cup_sizes import cup_limits
from .job_order import JobOrder, layer_by_layer
from .laminate import Ply, thickness_mm
from .plan import SURFACE_COAT, Plan, PlanCup
from .warmth import TimePoint, halved_min, shortened_min, window_min

_GUARD = 1e-9


@dataclass(frozen=True, slots=True)
class SystemTimes:
    """Times of one system, whole minutes; limits to the safe side.

    :ivar largest_cup_g: of the card, in this shop, on this scale.
    :ivar tack_opens_min: after a coat of it ended; likewise ``tack_closes_min``.
    :ivar demould_min: after the last pour; likewise ``full_min``.
    """

    largest_cup_g: float
    pot_life_min: float | None = None
    tack_opens_min: float | None = None
    tack_closes_min: float | None = None
    demould_min: float | None = None
    full_min: float | None = None


def system_times(
    card: SystemCard,
    scale: ScaleCard,
    temperature_c: float | None = None,
    empty_cup_g: float = 0.0,
) -> SystemTimes:
    """Times of a system at a temperature, or as the sheet gives them.

    :param temperature_c: of the shop, degrees Celsius; None for the sheet's own temperatures.
    :param empty_cup_g: what stands on the scale before part A.
    :raises OutOfRange: figures of the card that no curve goes through.
    :source: ``warmth``; what ends a time is never later, what begins one never earlier than
        the sheet says.
    """
    opens_min, closes_min = _tack(card, temperature_c)
    cure = card.cure
    return SystemTimes(
        largest_cup_g=cup_limits(card, scale, temperature_c, empty_cup_g).largest_g,
        pot_life_min=_pot_life(card, temperature_c),
        tack_opens_min=opens_min,
        tack_closes_min=closes_min,
        demould_min=_not_before(cure.demould_min, cure.temperature_c, temperature_c)
        if cure
        else None,
        full_min=_not_before(cure.full_min, cure.temperature_c, temperature_c)
        if cure and cure.full_min is not None
        else None,
    )


def _pot_life(card: SystemCard, temperature_c: float | None) -> float | None:
    if card.pot_life is None:
        return None
    if temperature_c is None:
        return float(floor(card.pot_life.minutes + _GUARD))
    points = [card.pot_life, *card.more_pot_life]
    at = [TimePoint(point.minutes, point.temperature_c) for point in points]
    return shortened_min(at, temperature_c)


def _tack(card: SystemCard, temperature_c: float | None) -> tuple[float | None, float | None]:
    tack = card.tack
    if tack is None:
        return None, None
    at_c = tack.temperature_c if temperature_c is None else temperature_c
    opens_min, closes_min = window_min(tack.opens_min, tack.closes_min, tack.temperature_c, at_c)
    return float(ceil(opens_min - _GUARD)), float(floor(closes_min + _GUARD))


def _not_before(sheet_min: float, sheet_c: float, temperature_c: float | None) -> float:
    """A time that must have passed: longer when colder, never shorter than the sheet says."""
    at_c = sheet_c if temperature_c is None else temperature_c
    found = max(sheet_min, halved_min(TimePoint(sheet_min, sheet_c), at_c))
    return float(ceil(found - _GUARD))


@dataclass(frozen=True, slots=True)
class Need:
    """What a plan takes of one material, grams, with what stays in the cups."""

    material: str
    mass_g: float


def needs(made: Plan, order: JobOrder, systems: Mapping[str, SystemCard]) -> tuple[Need, ...]:
    """Part A, part B and paste of all cups, by material in the order of the work.

    :param systems: cards by name with revision, as the cups name them.
    """
    sums: dict[str, float] = {}
    for cup in made.cups:
        card = systems[cup.system]
        for material, mass_g in (
            (card.resin, cup.part_a_g),
            (card.hardener, cup.part_b_g),
            (additive_of(cup, order), additive_g(cup, order)),
        ):
            if material:
                sums[material] = sums.get(material, 0.0) + mass_g
    return tuple(Need(material, mass_g) for material, mass_g in sums.items())


def additive_of(cup: PlanCup, order: JobOrder) -> str:
    """Code of the paste in a cup's part A; empty if none."""
    return order.surface_coat.additive if order.surface_coat and cup.step == SURFACE_COAT else ""


def additive_g(cup: PlanCup, order: JobOrder) -> float:
    """Paste that goes into part A of a cup, on top of A and B; T13: 5 % of 97.9 g are 4.9 g."""
    coat = order.surface_coat
    return cup.part_a_g * coat.additive_pct / 100 if coat and cup.step == SURFACE_COAT else 0.0


def step_of(cup: PlanCup) -> str:
    """Step of the lay-up sheet a cup is mixed for: the first ply its resin goes into.

    :param cup: of a job planned layer by layer.
    """
    return "surface coat" if cup.step == SURFACE_COAT else f"ply {cup.plies[0] + 1}"


@dataclass(frozen=True, slots=True)
class StackLayer:
    """One layer of the drawing of a stack, to scale, in units of the drawing.

    :ivar number: of the ply, from 1; 0 for the surface coat.
    :ivar thick_mm: without voids.
    :ivar top: distance from the upper edge.
    """

    number: int
    cloth: str
    angle_deg: float
    thick_mm: float
    top: float
    height: float


def stack(order: JobOrder, drawn_height: float) -> tuple[StackLayer, ...]:
    """The stack from the mould up: coat, then every layer.

    :param drawn_height: of the whole stack, units of the drawing.
    :raises OutOfRange: a ply that cannot be laid, or a density not above zero.
    :source: ``laminate.thickness_mm``; the coat has the density of the job's resin.
    """
    thick = _thicknesses(order)
    whole_mm = sum(one[3] for one in thick)
    layers, bottom = [], drawn_height
    for number, cloth, angle_deg, thick_mm in thick:
        height = drawn_height * thick_mm / whole_mm
        bottom -= height
        layers.append(StackLayer(number, cloth, angle_deg, thick_mm, bottom, height))
    return tuple(layers)


def _thicknesses(order: JobOrder) -> Sequence[tuple[int, str, float, float]]:
    density_g_cm3 = order.resin_density_g_cm3
    coat = order.surface_coat
    found = [(0, "", 0.0, coat.coat_g_m2 / density_g_cm3 / 1000)] if coat else []
    for number, ply in enumerate(layer_by_layer(order).plies, 1):
        share = ply.resin_mass_fraction
        share = order.resin_mass_fraction if share is None else share
        fibre_g_cm3 = ply.fibre_density_g_cm3 or order.fibre_density_g_cm3
        laid = Ply(ply.areal_weight_g_m2, 1 - share, fibre_g_cm3)
        found.append((number, ply.cloth, ply.angle_deg, thickness_mm([laid], density_g_cm3)))
    return found


def hours_and_minutes(minutes: float) -> tuple[int, int]:
    """Whole minutes as hours and the minutes beyond them."""
    return divmod(round(minutes), 60)
