"""Fold the rows of one cup into its state."""

from collections.abc import Iterable, Sequence

from ..cards import ScaleCard, SystemCard
from ..chain import double_filled, in_order, label
from ..errors import OutOfRange
from ..ratio import ratio_error
from ..rows import Row, voided_ids
from ..weighing import (
    Pour,
    Verdict,
    expanded_uncertainty,
    net_of,
    reading_variance_g2,
    verdict,
)
from . import history
from .mixing import MIXED_EARLY
from .pot_clock import OVER
from .progress import Fact, reached
from .readings import PARTS, Readings, finished, read, unfinished_part
from .sharing import is_share, share
from .state import Cup


def fold(rows: Iterable[Row], system: SystemCard, scale: ScaleCard, mix: Cup | None = None) -> Cup:
    """What is in this cup, and is it in tolerance?

    :param rows: every row of one cup, any order.
    :param system: card of the cup's system, in the cup's revision.
    :param scale: card of the cup's scale.
    :param mix: the cup whose mix this one is a share of, folded; None for a cup of its own.
    :return: the state of the cup; masses unrounded.
    :raises OutOfRange: there is no row.
    :source: trade.ratio and trade.weighing; tests/cases/cup.json.
    """
    ordered = in_order(rows)
    if not ordered:
        raise OutOfRange("rows", 0, "at least the row that started the cup")
    voided = voided_ids(ordered)
    standing = [row for row in ordered if row.event_id not in voided]
    readings = read(ordered, voided, scale.readability_g)
    error, expanded, word = _judge(readings, system, scale)
    # Rows that hang on nothing may stand before the start of the cup; they say nothing about it.
    start = next((row for row in ordered if row.kind == "cup_started"), ordered[0])
    ending, setting = history.ending(standing), history.setting(standing)
    a_weighed_at, a_read_at = history.read_at(standing, "a")
    cup = Cup(
        id=start.event_id,
        code=label(ordered),
        system=start.system,
        scale=start.scale,
        person=start.person,
        job=start.job,
        step=start.step,
        started_at=start.recorded_at,
        planned_total_g=history.number(start.value) if start.kind == "cup_started" else None,
        state=reached(_facts(standing, readings)),
        cup_g=readings.cup_g,
        display_g=readings.display_g,
        opens=readings.opens,
        pours=readings.pours,
        part_a_g=net_of(readings.pours, "a"),
        part_b_g=net_of(readings.pours, "b"),
        total_g=_total_g(readings.pours),
        ratio_error=error,
        uncertainty=expanded,
        verdict=word,
        unknown=readings.unknown,
        corrections=_corrections(readings.pours),
        lots=history.lots(standing),
        a_weighed_at=a_weighed_at,
        a_read_at=a_read_at,
        covers=history.covers(standing),
        first_contact_at=history.first_contact_at(standing),
        mix_started_at=history.first_at(standing, "mix_started"),
        scraped_at=history.first_at(standing, "scraped"),
        mixed_at=history.first_at(standing, "mixed"),
        mix_reason=history.reason_shown(standing, MIXED_EARLY),
        felt_warm=any(row.kind == "felt_warm" for row in standing),
        uses=history.uses(standing),
        leftover_g=history.number(ending.value) if ending and ending.kind == "leftover" else None,
        deviation=history.deviation(standing),
        pot_life_reason=history.reason_shown(standing, OVER),
        ending=ending.kind if ending else "",
        set_at=setting.recorded_at if setting else "",
        set_where=setting.note if setting else "",
        disposed_at=history.first_at(standing, "disposed"),
        share_of=start.target if is_share(start) else "",
        flags=_flags(ordered, standing, word, system, scale),
        last_reading_id=readings.last_id,
        last_reading_component=readings.last_component,
        last_event_id=ordered[-1].event_id,
    )
    return share(cup, _facts(standing, readings), mix) if is_share(start) else cup


def _judge(
    readings: Readings, system: SystemCard, scale: ScaleCard
) -> tuple[float | None, float | None, Verdict | None]:
    part_a_g, part_b_g = net_of(readings.pours, "a"), net_of(readings.pours, "b")
    holds_both = part_a_g > 0 and part_b_g > 0
    if readings.unknown or unfinished_part(readings.pours) or not holds_both:
        return None, None, None
    variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)
    error = ratio_error(part_a_g, part_b_g, system.ratio)
    expanded = expanded_uncertainty(readings.pours, system.ratio, variance_g2)
    return error, expanded, verdict(error, system.tolerance, expanded)


def _total_g(pours: Sequence[Pour]) -> float:
    total_g = 0.0
    for pour in pours:
        total_g += pour.net_g
    return total_g


def _facts(standing: Sequence[Row], readings: Readings) -> set[Fact]:
    kinds = {row.kind for row in standing}
    going_on, held = unfinished_part(readings.pours), _held(readings.pours)
    facts = {
        Fact.UNIDENTIFIED: "unidentified" in kinds,
        Fact.EMPTY_CUP_READ: readings.display_g is not None,
        Fact.A_WEIGHED: "a" in held and not going_on,
        Fact.HARDENER_OPENED: "pour_opened" in kinds or going_on == "b" or "b" in held,
        Fact.BOTH_WEIGHED: {"a", "b"} <= _held(finished(readings.pours)),
        Fact.MIX_STARTED: "mix_started" in kinds,
        Fact.MIXED: "mixed" in kinds,
        Fact.POURED: "poured" in kinds,
        Fact.ENDED: bool(kinds & history.ENDINGS),
        Fact.LEFT_TO_SET: "setting" in kinds,
        Fact.COLD_AND_HARD: "disposed" in kinds,
    }
    return {fact for fact, holds in facts.items() if holds}


def _held(pours: Sequence[Pour]) -> set[str]:
    """Parts of which there is anything: a reading equal to the one before poured nothing."""
    return {part for part in PARTS if net_of(pours, part) > 0}


def _corrections(pours: Sequence[Pour]) -> int:
    """Additions after the cup could first be judged; one that was interrupted counts once."""
    count, could_be_judged, going_on = 0, False, ""
    held_g = dict.fromkeys(PARTS, 0.0)
    for pour in pours:
        if could_be_judged and pour.component in PARTS and pour.component != going_on:
            count += 1
        if pour.component in PARTS:
            held_g[pour.component] += pour.net_g
        going_on = unfinished_part((pour,))
        could_be_judged |= not going_on and min(held_g.values()) > 0
    return count


def _flags(
    ordered: Sequence[Row],
    standing: Sequence[Row],
    word: Verdict | None,
    system: SystemCard,
    scale: ScaleCard,
) -> tuple[str, ...]:
    flags = {
        "double_fill": double_filled(ordered),
        "hardener_opened_twice": sum(row.kind == "pour_opened" for row in standing) > 1,
        "other_scale": any(row.scale not in ("", scale.name) for row in standing),
        "start_missing": all(row.kind != "cup_started" for row in ordered),
        "verdict_changed": _verdict_changed(ordered, standing, word, system, scale),
    }
    return tuple(name for name, raised in flags.items() if raised)


def _verdict_changed(
    ordered: Sequence[Row],
    standing: Sequence[Row],
    word: Verdict | None,
    system: SystemCard,
    scale: ScaleCard,
) -> bool:
    """Whether a later row moved the verdict of a cup that was already poured."""
    first_use = next((row for row in standing if row.kind in ("poured", "divided")), None)
    if first_use is None:
        return False
    before = ordered[: ordered.index(first_use)]
    voided = voided_ids(before)
    return _judge(read(before, voided, scale.readability_g), system, scale)[2] != word
