"""The one next thing to do with a cup."""

from dataclasses import dataclass, replace
from enum import StrEnum

from ..cards import ScaleCard, SystemCard
from ..clocks import pot_life_min
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
    :return: exactly one instruction.
    :source: design section 4, rules 1 to 7 and 9 to 12; tests/cases/cup.json.
    """
    if cup.state is CupState.CLOSED:
        return Advice(Action.NONE, reason=cup.ending)
    if cup.unknown:
        return Advice(Action.SCRAP, reason=cup.unknown)
    if cup.state in (CupState.STARTED, CupState.EMPTY_READ):
        return _first_pour(cup, system, scale, cup_volume_ml)
    if cup.state is CupState.A_WAITING:
        return _hardener(cup, system, scale, cup_volume_ml, Action.OPEN_HARDENER)
    if cup.state is CupState.B_OPEN:
        return _hardener(cup, system, scale, cup_volume_ml, Action.POUR)
    return _judged(cup, system, scale, now_utc, temperature_c, cup_volume_ml)


def _first_pour(
    cup: Cup, system: SystemCard, scale: ScaleCard, cup_volume_ml: float | None
) -> Advice:
    planned_g = cup.planned_total_g or 0.0
    variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)
    refuse_g = smallest_cup_g(system.ratio, system.tolerance, variance_g2, 1)
    warn_g = smallest_cup_g(system.ratio, system.tolerance, variance_g2, WARN_SHARE)
    cautions = ["gloves"]
    if planned_g < warn_g:
        cautions.append("proves_in_part")
    if scale.repeatability_g is None:
        cautions.append("display_step_only")
    if planned_g < refuse_g - STEP_GUARD:
        return Advice(Action.OTHER_SCALE, smallest_cup_g=refuse_g, reason="scale_too_coarse")
    if planned_g > largest_g(system, cup_volume_ml) + STEP_GUARD:
        cautions.append("over_largest")
    if cup.state is CupState.STARTED:
        return Advice(
            Action.READ_CUP, total_g=planned_g, smallest_cup_g=warn_g, cautions=tuple(cautions)
        )
    display_g = cup.display_g or 0.0
    part_a_g = targets(planned_g, system.ratio).part_a_g
    limit_g = largest_part_a_g(largest_g(system, cup_volume_ml), system.ratio)
    return Advice(
        Action.POUR,
        component="a",
        add_g=part_a_g,
        display_stop_g=display_g + part_a_g,
        display_limit_g=min(display_g + limit_g, scale.capacity_g),
        total_g=planned_g,
        smallest_cup_g=warn_g,
        cautions=tuple(cautions),
    )


def _hardener(
    cup: Cup,
    system: SystemCard,
    scale: ScaleCard,
    cup_volume_ml: float | None,
    action: Action,
) -> Advice:
    part_b_g = hardener_target_g(cup.part_a_g, system.ratio)
    display_g = cup.display_g or 0.0
    stop_g = display_g + part_b_g - cup.part_b_g
    total_g = cup.part_a_g + part_b_g
    cautions = ["eyes_covered"]
    if total_g > largest_g(system, cup_volume_ml) + STEP_GUARD:
        cautions.append("over_largest")
    if stop_g > scale.capacity_g:
        cautions.append("over_capacity")
    return Advice(
        action,
        component="b",
        add_g=part_b_g - cup.part_b_g,
        display_stop_g=stop_g,
        window=window(cup, "b", system, scale),
        total_g=total_g,
        cautions=tuple(cautions),
    )


def _judged(
    cup: Cup,
    system: SystemCard,
    scale: ScaleCard,
    now_utc: str,
    temperature_c: float | None,
    cup_volume_ml: float | None,
) -> Advice:
    if cup.verdict in (Verdict.IN, Verdict.IN_UNPROVEN) or cup.deviation:
        return _after_verdict(cup, system)
    ended = _correcting_ended(cup, system, now_utc, temperature_c)
    if ended:
        return Advice(Action.SCRAP, reason=ended)
    addition = top_up(cup.part_a_g, cup.part_b_g, system.ratio)
    display_g = cup.display_g or 0.0
    advice = Advice(
        Action.CORRECT,
        component=addition.component,
        add_g=addition.add_g,
        display_stop_g=display_g + addition.add_g,
        window=window(cup, addition.component, system, scale),
        total_g=addition.total_g,
    )
    over = addition.total_g > largest_g(system, cup_volume_ml) + STEP_GUARD
    return replace(advice, cautions=("over_largest",)) if over else advice


def _after_verdict(cup: Cup, system: SystemCard) -> Advice:
    over = cup.total_g > system.largest_cup_g + STEP_GUARD
    cautions = ("over_largest",) if over else ()
    if cup.state is CupState.JUDGED:
        return Advice(Action.MIX, total_g=cup.total_g, cautions=("do_not_leave", *cautions))
    if cup.state is CupState.MIXING:
        return Advice(Action.FINISH_MIXING, total_g=cup.total_g, cautions=cautions)
    return Advice(Action.USE, total_g=cup.total_g, cautions=("do_not_leave", *cautions))


def _correcting_ended(
    cup: Cup, system: SystemCard, now_utc: str, temperature_c: float | None
) -> str:
    """Why no correction may be offered any more; empty while one may."""
    if cup.felt_warm:
        return "felt_warm"
    if cup.corrections >= MAX_CORRECTIONS:
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


def largest_g(system: SystemCard, cup_volume_ml: float | None) -> float:
    """Largest mix this cup may hold, grams: the system's largest cup or the cup's own volume.

    Without a density on the card a gram is taken to fill a millilitre, which is on the safe side
    for every epoxy (1.0 g/cm3 and more; common practice, no source).
    """
    if cup_volume_ml is None:
        return system.largest_cup_g
    density_g_cm3 = system.mixed_density_g_cm3 or 1.0
    return min(system.largest_cup_g, cup_volume_ml * density_g_cm3)
