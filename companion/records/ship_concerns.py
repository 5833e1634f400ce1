"""What speaks against shipping a part of a job: said by name, forbidding nothing."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ..trade.cards import Lot
from ..trade.rows import voided_ids
from ..trade.weighing import Verdict
from . import catalogue, lay_up_sheets
from .lineage import cups_of_job, job_code
from .store import Store
from .trace import CupStory

#: Names of what speaks against it, in the order they are said.
NO_CUP, OUT, UNKNOWN, QUARANTINED, EXPIRED, IN_MOULD = (
    "no_cup",
    "out",
    "unknown",
    "quarantined",
    "expired",
    "in_mould",
)


@dataclass(frozen=True, slots=True)
class Concern:
    """One thing that speaks against it, and the cups or lots concerned."""

    name: str
    codes: tuple[str, ...] = ()


def concerns(store: Store, job: str) -> tuple[Concern, ...]:
    """What speaks against shipping the parts of a job.

    :param job: its code, with its revision or without.
    :source: common practice, no source.
    """
    poured = cups_of_job(store, job)
    lots = {lot.code: lot for lot in catalogue.latest(store, Lot)}
    found = [
        *([] if poured else [Concern(NO_CUP)]),
        *_named(OUT, (story.code for story in poured if _is_out(story))),
        *_named(UNKNOWN, (story.code for story in poured if _is_unknown(story))),
        *_named(QUARANTINED, _quarantined(poured, lots)),
        *_named(EXPIRED, _expired(poured, lots)),
    ]
    if job_code(job) not in lay_up_sheets.demoulded(store):
        found.append(Concern(IN_MOULD))
    return tuple(found)


def _named(name: str, codes: Iterable[str]) -> list[Concern]:
    each_once = tuple(dict.fromkeys(codes))
    return [Concern(name, each_once)] if each_once else []


def _is_out(story: CupStory) -> bool:
    cup = story.cup
    if cup is None or cup.unknown or cup.deviation:
        return False
    return cup.verdict in (Verdict.OUT, Verdict.OUT_UNPROVEN)


def _is_unknown(story: CupStory) -> bool:
    return story.cup is None or bool(story.cup.unknown) or story.cup.verdict is None


def _quarantined(poured: Sequence[CupStory], lots: dict[str, Lot]) -> list[str]:
    return [lot.code for lot, _ in _used(poured, lots) if lot.quarantined]


def _expired(poured: Sequence[CupStory], lots: dict[str, Lot]) -> list[str]:
    """Lots that were over on the day they were used; what expired since was good then."""
    return [lot.code for lot, day in _used(poured, lots) if lot.expires_on and lot.expires_on < day]


def _used(poured: Sequence[CupStory], lots: dict[str, Lot]) -> Iterator[tuple[Lot, str]]:
    """Lots of cups with the day they were used, ISO 8601."""
    for story in poured:
        struck = voided_ids(story.rows)
        for row in story.rows:
            if row.kind == "lot_used" and row.event_id not in struck and row.lot in lots:
                yield lots[row.lot], row.recorded_at[:10]
