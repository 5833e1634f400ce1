"""The one next thing to do with a cup."""

from dataclasses import dataclass, replace
from enum import StrEnum

from ..cards import ScaleCard, SystemCard
from ..constants import STEP_GUARD, WARN_SHARE
from ..ratio import hardener_target_g, largest_part_a_g, targets, top_up
from ..weighing import Verdict, reading_variance_g2, smallest_cup_g
from .additive import (
    PlannedAdditive,
    additives_g,
    is_missing,
    left_g,
    most_left_g,
    paste_cautions,
)
from .limits import correcting_ended, largest_g
from .mixing import mix_cautions
from .pot_clock import pot_cautions
from .progress import CupState
from .readings import unfinished_part
from .state import Cup
from .waiting import waiting_cautions
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
    DIVIDE = "divide"
    USE = "use"
    WATCH = "watch"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Advice:
    """One instruction. Displays and masses in grams, unrounded; None where they do not apply.

    ``component`` is "a", "b" or the code of a paste. ``total_g`` is all that the cup then holds;
    before its part A is poured it is the planned total, which is A and B alone. ``cautions`` are
    codes the screens put into words; ``reason`` says why only scrapping is left or why this scale
    cannot be used.
    """

    action: Action
    component: str = ""
    add_g: float | None = None
    display_stop_g: float | None = None
    #: highest display that still makes a cup within the largest, for part A before B; for a paste
    #: the highest within its cap.
    display_limit_g: float | None = None
    window: Window | None = None
    total_g: float | None = None
    smallest_cup_g: float | None = None
    reason: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Bench:
    """A cup on its scale, the most it may hold, and the paste its plan asks for."""

    cup: Cup
    system: SystemCard
    scale: ScaleCard
    most_g: float
    additive: PlannedAdditive | None

    @property
    def display_g(self) -> float:
        return self.cup.display_g or 0.0

    @property
    def paste_ratio(self) -> float:
        """Planned paste per part A, g/g."""
        return self.additive.poured_pct / 100 if self.additive else 0.0

    @property
    def cautions(self) -> tuple[str, ...]:
        return paste_cautions(self.cup, self.additive, self.scale)

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
    additive: PlannedAdditive | None = None,
) -> Advice:
    """Say what comes next.

    :param cup: the folded cup.
    :param system: its card.
    :param scale: the scale it stands on.
    :param now_utc: time now, RFC 3339.
    :param temperature_c: warmest that counts for the cup, degrees Celsius, None if not known.
    :param cup_volume_ml: volume of the empty cup, None if not known.
    :param additive: paste the plan asks for, None if none.
    :return: exactly one instruction, whatever the rows of the cup say.
    :source: design section 4, rules 1 to 12; tests/cases/cup.json, additive.json.
    """
    bench = _Bench(cup, system, scale, largest_g(system, cup_volume_ml, temperature_c), additive)
    if cup.state is CupState.CLOSED:
        return Advice(Action.NONE, reason=cup.ending)
    if cup.state is CupState.SETTING:
        return Advice(Action.WATCH, reason=cup.ending, cautions=("do_not_leave",))
    if cup.state is CupState.UNIDENTIFIED:
        return Advice(Action.SCRAP, reason="unidentified")
    if cup.unknown:
        return Advice(Action.SCRAP, reason=cup.unknown)
    if cup.state in (CupState.STARTED, CupState.EMPTY_READ):
        return _first_pour(bench)
    if cup.state is CupState.A_WAITING:
        if additive and is_missing(cup, additive):
            return _paste(bench, additive)
        waited = waiting_cautions(cup, now_utc)
        return _pour(bench, Action.OPEN_HARDENER, "b", "eyes_covered", *waited)
    if cup.state is CupState.B_OPEN:
        return _missing_part(bench)
    if not bench.holds_both and not cup.share_of:
        return Advice(Action.SCRAP, reason="part_missing")
    advice = _judged(bench, now_utc, temperature_c)
    late = pot_cautions(cup, system, now_utc, temperature_c)
    return replace(advice, cautions=(*advice.cautions, *late))


def _first_pour(bench: _Bench) -> Advice:
    """Part A as planned; after a restart what of it is still to go."""
    plan = _plan(bench)
    if plan.action is Action.OTHER_SCALE or bench.cup.display_g is None:
        return plan
    ratio, there_g = bench.system.ratio, bench.cup.part_a_g
    limit_g = largest_part_a_g(bench.most_g, ratio + bench.paste_ratio)
    missing_g = None
    if plan.total_g is not None:
        missing_g = max(0.0, targets(plan.total_g, ratio).part_a_g - there_g)
    return replace(
        plan,
        action=Action.POUR,
        component="a",
        add_g=missing_g,
        display_stop_g=None if missing_g is None else bench.display_g + missing_g,
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
    paste_g = (planned_g or 0.0) / (1 + system.ratio) * bench.paste_ratio
    filled_g = (planned_g or 0.0) + paste_g
    if empty_g + filled_g > scale.capacity_g + STEP_GUARD:
        return Advice(Action.OTHER_SCALE, reason="over_capacity")
    cautions = {
        "gloves": True,
        "proves_in_part": planned_g is not None and planned_g < warn_g,
        "display_step_only": scale.repeatability_g is None,
        "over_largest": planned_g is not None and filled_g > bench.most_g + STEP_GUARD,
    }
    return Advice(
        Action.READ_CUP,
        total_g=planned_g,
        smallest_cup_g=warn_g,
        cautions=(*(name for name, raised in cautions.items() if raised), *bench.cautions),
    )


def _paste(bench: _Bench, additive: PlannedAdditive) -> Advice:
    """The paste, after part A was read and before the hardener is opened."""
    cup, scale, ratio = bench.cup, bench.scale, bench.system.ratio
    add_g = left_g(cup, additive)
    stop_g = bench.display_g + add_g
    hardener_g = hardener_target_g(cup.part_a_g, ratio)
    total_g = cup.part_a_g + hardener_g + additives_g(cup.pours) + add_g
    return Advice(
        Action.POUR,
        component=additive.code,
        add_g=add_g,
        display_stop_g=stop_g,
        display_limit_g=min(bench.display_g + most_left_g(cup, additive, scale), scale.capacity_g),
        total_g=total_g,
        cautions=("gloves", *_over(bench, total_g, stop_g), *bench.cautions),
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
    cup, system = bench.cup, bench.system
    if component == "b":
        missing_g = hardener_target_g(cup.part_a_g, system.ratio) - cup.part_b_g
    else:
        missing_g = cup.part_b_g / system.ratio - cup.part_a_g
    # A pour broken off beyond its target ends where it stands.
    add_g = max(0.0, missing_g)
    stop_g = bench.display_g + add_g
    total_g = cup.part_a_g + cup.part_b_g + add_g + additives_g(cup.pours)
    return Advice(
        action,
        component=component,
        add_g=add_g,
        display_stop_g=stop_g,
        window=window(cup, component, system, bench.scale),
        total_g=total_g,
        cautions=(*cautions, *_over(bench, total_g, stop_g), *bench.cautions),
    )


def _over(bench: _Bench, total_g: float, stop_g: float) -> tuple[str, ...]:
    """Whether a pour makes the cup too large for its system or volume, or for the scale."""
    over_largest = ("over_largest",) if total_g > bench.most_g + STEP_GUARD else ()
    over_capacity = ("over_capacity",) if stop_g > bench.scale.capacity_g else ()
    return (*over_largest, *over_capacity)


def _judged(bench: _Bench, now_utc: str, temperature_c: float | None) -> Advice:
    cup, going_on = bench.cup, unfinished_part(bench.cup.pours)
    is_in = cup.verdict in (Verdict.IN, Verdict.IN_UNPROVEN)
    if not going_on and (is_in or cup.deviation):
        return _after_verdict(bench, now_utc)
    ended = correcting_ended(cup, bench.system, now_utc, temperature_c)
    if ended:
        return Advice(Action.SCRAP, reason=ended)
    if going_on:
        return _pour(bench, Action.POUR, going_on)
    return _pour(
        bench, Action.CORRECT, top_up(cup.part_a_g, cup.part_b_g, bench.system.ratio).component
    )


def _after_verdict(bench: _Bench, now_utc: str) -> Advice:
    cup = bench.cup
    over_largest = ("over_largest",) if cup.total_g > bench.most_g + STEP_GUARD else ()
    cautions = (*over_largest, *bench.cautions)
    if cup.state is CupState.JUDGED:
        return Advice(Action.MIX, total_g=cup.total_g, cautions=("do_not_leave", *cautions))
    if cup.state is CupState.MIXING:
        clock = mix_cautions(cup, bench.system, now_utc)
        return Advice(Action.FINISH_MIXING, total_g=cup.total_g, cautions=(*clock, *cautions))
    # Never before it is mixed: the shares would differ, and nobody could say by how much.
    if over_largest and cup.state is CupState.MIXED:
        return Advice(Action.DIVIDE, total_g=cup.total_g, cautions=("do_not_leave", *cautions))
    return Advice(Action.USE, total_g=cup.total_g, cautions=("do_not_leave", *cautions))
