"""The one next thing to do with a cup."""

from dataclasses import dataclass, replace
from enum import StrEnum

from ..cards import ScaleCard, SystemCard
from ..clocks import largest_mix_g, pot_life_min
from ..constants import (
    CORRECTION_AFTER_MIXING_S,
    CORRECTION_POT_LIFE_SHARE,
    MAX_CORRECTIONS,
    STEP_GUARD,
    WARN_SHARE,
)
from ..ratio import hardener_target_g, largest_part_a_g, targets, top_up
from ..times import seconds_between
from ..weighing import Verdict, reading_variance_g2, smallest_cup_g
from .readings import unfinished_part
from .state import Cup, CupState
from .window import Window, window


class Action(StrEnum):
    """What a person does next."""

    OTHER_SCALE = "other_scale"
    READ_CUP = "read_cup"
    POUR = "pour"
    OPEN_HARDENER = "open_hardener"
    CORRECT = "correct"
    SCRAP = "scrap"
    MIX = "mix"
    FINISH_MIXING = "finish_mixing"
    USE = "use"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Advice:
    """One instruction. Displays and masses in grams, unrounded; None where they do not apply.

    ``cautions`` are codes the screens put into words; ``reason`` says why only scrapping is left
    or why this scale cannot be used.
    """

    action: Action
    component: str = ""
    add_g: float | None = None
    display_stop_g: float | None = None
    #: highest display that still makes a cup within the largest, for part A before B.
    display_limit_g: float | None = None
    window: Window | None = None
    total_g: float | None = None
    smallest_cup_g: float | None = None
    reason: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Bench:
    """A cup on its scale, and the most it may hold."""

    cup: Cup
    system: SystemCard
    scale: ScaleCard
    most_g: float

    @property
    def display_g(self) -> float:
        return self.cup.display_g or 0.0

    @property
    def holds_both(self) -> bool:
        return self.cup.part_a_g > 0 and self.cup.part_b_g > 0


def advise(
    cup: Cup,
    system: SystemCard,
    scale: ScaleCard,
    now_utc: str,
    temperature_c: float | None = None,
    cup_volume_ml: float | None = None,
) -> Advice:
    """Say what comes next.

    :param cup: the folded cup.
    :param system: its card.
    :param scale: the scale it stands on.
    :param now_utc: time now, RFC 3339.
    :param temperature_c: shop temperature, degrees Celsius, None if not known.
    :param cup_volume_ml: volume of the empty cup, None if not known.
    :return: exactly one instruction, whatever the rows of the cup say.
    :source: design section 4, rules 1 to 12; tests/cases/cup.json.
    """
    bench = _Bench(cup, system, scale, largest_g(system, cup_volume_ml, temperature_c))
    if cup.state is CupState.CLOSED:
        return Advice(Action.NONE, reason=cup.ending)
    if cup.unknown:
        return Advice(Action.SCRAP, reason=cup.unknown)
    if cup.state in (CupState.STARTED, CupState.EMPTY_READ):
        return _first_pour(bench)
    if cup.state is CupState.A_WAITING:
        return _pour(bench, Action.OPEN_HARDENER, "b", "eyes_covered")
    if cup.state is CupState.B_OPEN:
        return _missing_part(bench)
    if not bench.holds_both:
        return Advice(Action.SCRAP, reason="part_missing")
    return _judged(bench, now_utc, temperature_c)


def _first_pour(bench: _Bench) -> Advice:
    """Part A as planned; after a restart what of it is still to go."""
    plan = _plan(bench)
    if plan.action is Action.OTHER_SCALE or bench.cup.display_g is None:
        return plan
    ratio, there_g = bench.system.ratio, bench.cup.part_a_g
    limit_g = largest_part_a_g(bench.most_g, ratio)
    left_g = None
    if plan.total_g is not None:
        left_g = max(0.0, targets(plan.total_g, ratio).part_a_g - there_g)
    return replace(
        plan,
        action=Action.POUR,
        component="a",
        add_g=left_g,
        display_stop_g=None if left_g is None else bench.display_g + left_g,
        display_limit_g=min(bench.display_g + limit_g - there_g, bench.scale.capacity_g),
    )


def _plan(bench: _Bench) -> Advice:
    """The planned total, judged for this scale: read the empty cup, or take another scale.

    With no total planned there is nothing to judge: the scale names its smallest cup.
    """
    planned_g, system, scale = bench.cup.planned_total_g, bench.system, bench.scale
    variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)
    refuse_g = smallest_cup_g(system.ratio, system.tolerance, variance_g2, 1)
    warn_g = smallest_cup_g(system.ratio, system.tolerance, variance_g2, WARN_SHARE)
    if planned_g is not None and planned_g < refuse_g - STEP_GUARD:
        return Advice(Action.OTHER_SCALE, smallest_cup_g=refuse_g, reason="scale_too_coarse")
    empty_g = bench.display_g - bench.cup.part_a_g
    if empty_g + (planned_g or 0.0) > scale.capacity_g + STEP_GUARD:
        return Advice(Action.OTHER_SCALE, reason="over_capacity")
    cautions = {
        "gloves": True,
        "proves_in_part": planned_g is not None and planned_g < warn_g,
        "display_step_only": scale.repeatability_g is None,
        "over_largest": planned_g is not None and planned_g > bench.most_g + STEP_GUARD,
    }
    return Advice(
        Action.READ_CUP,
        total_g=planned_g,
        smallest_cup_g=warn_g,
        cautions=tuple(name for name, raised in cautions.items() if raised),
    )


def _missing_part(bench: _Bench) -> Advice:
    """The hardener is open: what the cup still lacks, or the pour a restart broke off."""
    cup = bench.cup
    lacks_a = not cup.part_a_g > 0 or unfinished_part(cup.pours) == "a"
    if not lacks_a:
        return _pour(bench, Action.POUR, "b", "eyes_covered")
    return _pour(bench, Action.POUR, "a") if cup.part_b_g > 0 else _first_pour(bench)


def _pour(bench: _Bench, action: Action, component: str, *cautions: str) -> Advice:
    """Pour one part until it matches the other; what is in the cup of it counts."""
    cup, system, scale = bench.cup, bench.system, bench.scale
    if component == "b":
        left_g = hardener_target_g(cup.part_a_g, system.ratio) - cup.part_b_g
    else:
        left_g = cup.part_b_g / system.ratio - cup.part_a_g
    # A pour broken off beyond its target ends where it stands.
    left_g = max(0.0, left_g)
    stop_g = bench.display_g + left_g
    total_g = cup.part_a_g + cup.part_b_g + left_g
    over_largest = ("over_largest",) if total_g > bench.most_g + STEP_GUARD else ()
    over_capacity = ("over_capacity",) if stop_g > scale.capacity_g else ()
    return Advice(
        action,
        component=component,
        add_g=left_g,
        display_stop_g=stop_g,
        window=window(cup, component, system, scale),
        total_g=total_g,
        cautions=(*cautions, *over_largest, *over_capacity),
    )


def _judged(bench: _Bench, now_utc: str, temperature_c: float | None) -> Advice:
    cup, going_on = bench.cup, unfinished_part(bench.cup.pours)
    is_in = cup.verdict in (Verdict.IN, Verdict.IN_UNPROVEN)
    if not going_on and (is_in or cup.deviation):
        return _after_verdict(bench)
    ended = _correcting_ended(cup, bench.system, now_utc, temperature_c)
    if ended:
        return Advice(Action.SCRAP, reason=ended)
    if going_on:
        return _pour(bench, Action.POUR, going_on)
    return _pour(
        bench, Action.CORRECT, top_up(cup.part_a_g, cup.part_b_g, bench.system.ratio).component
    )


def _after_verdict(bench: _Bench) -> Advice:
    cup = bench.cup
    cautions = ("over_largest",) if cup.total_g > bench.most_g + STEP_GUARD else ()
    if cup.state is CupState.JUDGED:
        return Advice(Action.MIX, total_g=cup.total_g, cautions=("do_not_leave", *cautions))
    if cup.state is CupState.MIXING:
        return Advice(Action.FINISH_MIXING, total_g=cup.total_g, cautions=cautions)
    return Advice(Action.USE, total_g=cup.total_g, cautions=("do_not_leave", *cautions))


def _correcting_ended(
    cup: Cup, system: SystemCard, now_utc: str, temperature_c: float | None
) -> str:
    """Why no correction may be offered any more; empty while one may."""
    # A correction that is still going on was offered before, and is not one more.
    made = cup.corrections - (1 if unfinished_part(cup.pours) else 0)
    if cup.felt_warm:
        return "felt_warm"
    if made >= MAX_CORRECTIONS:
        return "two_corrections"
    if cup.state in (CupState.MIXED, CupState.IN_USE):
        return "mixed"
    if (
        cup.mix_started_at
        and seconds_between(cup.mix_started_at, now_utc) > CORRECTION_AFTER_MIXING_S
    ):
        return "mixing_too_long"
    pot_min = pot_life_min(system, temperature_c)
    if pot_min is not None and cup.first_contact_at:
        limit_s = pot_min * 60 * CORRECTION_POT_LIFE_SHARE
        if seconds_between(cup.first_contact_at, now_utc) > limit_s:
            return "pot_life_third"
    return ""


def largest_g(
    system: SystemCard, cup_volume_ml: float | None, temperature_c: float | None = None
) -> float:
    """Largest mix this cup may hold, grams: the system's largest in this shop or the cup's volume.

    Without a density on the card a gram is taken to fill a millilitre, which is on the safe side
    for every epoxy (1.0 g/cm3 and more; common practice, no source).
    """
    largest_mix = largest_mix_g(system, temperature_c)
    if cup_volume_ml is None:
        return largest_mix
    return min(largest_mix, cup_volume_ml * (system.mixed_density_g_cm3 or 1.0))
