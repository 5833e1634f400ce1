"""Cups as lines of a list: planned, and weighed."""

from ...records.plans import PlannedCup
from ...records.trace import CupStory
from ...trade.errors import OutOfRange
from ...trade.order import planned_targets
from ...trade.paste_order import planned_paste_g
from ...trade.ratio import Targets
from ...trade.section import layers
from . import words
from .context import Drawing, Judged, PlannedLine, WeighedLine
from .paste_words import planned_paste
from .shop import Shop
from .step_words import step_words


def planned_line(plan: PlannedCup, shop: Shop) -> PlannedLine:
    """A planned cup with what its codes mean."""
    system, targets = shop.systems.get(plan.system), _targets(plan, shop)
    paste_g = planned_paste_g(targets, plan.additive_pct) if targets else None
    return PlannedLine(
        plan=plan,
        part=shop.part(plan.job),
        step=step_words(plan.step),
        targets=targets,
        newest=shop.newest_system(plan.system),
        hardener_word=system.hardener_word if system else "",
        paste=planned_paste(plan.additive, paste_g),
    )


def _targets(plan: PlannedCup, shop: Shop) -> Targets | None:
    system = shop.systems.get(plan.system)
    if system is None:
        return None
    try:
        return planned_targets(plan.total, system)
    except OutOfRange:
        return None


def weighed_line(story: CupStory, shop: Shop) -> WeighedLine:
    """A cup that was started, with what its readings say."""
    first, last, cup = story.rows[0], story.rows[-1], story.cup
    poured = {pour.component for pour in cup.pours} if cup else set()
    return WeighedLine(
        code=story.code,
        at=last.recorded_at,
        offset_min=last.utc_offset_min,
        part=shop.part(first.job),
        step=step_words(first.step),
        system=first.system,
        part_a_g=cup.part_a_g if cup and "a" in poured else None,
        part_b_g=cup.part_b_g if cup and "b" in poured else None,
        drawing=drawing(story),
        judged=judged(story),
        state=words.state(cup) if cup else "",
        person=shop.person(first.person),
        flagged=bool(cup and cup.flags),
    )


def drawing(story: CupStory) -> Drawing | None:
    """The cup in section, full at its system's largest cup."""
    if story.cup is None or story.system is None or story.scale is None:
        return None
    capacity_g = max(story.system.largest_cup_g, story.cup.total_g)
    return Drawing(layers(story.cup.pours, capacity_g), story.scale.decimals)


def judged(story: CupStory) -> Judged | None:
    """The verdict with its shape and direction."""
    if story.cup is None:
        return None
    key, error = words.verdict_key(story.cup), story.cup.ratio_error
    return Judged(
        verdict=key,
        shape=words.shape(key, error),
        error=error,
        uncertainty=story.cup.uncertainty,
        direction=words.direction(error),
    )
