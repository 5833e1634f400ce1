"""What the log says about each step of a job: begun, done, tested, and what was written at it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from .lay_up_clocks import milliseconds
from .rows import Row, voided_ids

#: Kinds that tell of a step; the last two only add their words.
KINDS = frozenset("step_started step_done tack_tested deviation note".split())
#: What the record of a demoulding must hold; without it the part is taken to be in the mould.
SAMPLE_HARD = "sample hard"


@dataclass(frozen=True, slots=True)
class Happened:
    """What became of one step. Times RFC 3339, empty where it did not happen.

    :ivar shown: what the screen said of the bond when the step began.
    :ivar tested: result of the last finger test: ``not_yet``, ``ready`` or ``too_late``.
    """

    started_at: str = ""
    done_at: str = ""
    shown: str = ""
    tested: str = ""
    tested_at: str = ""
    person: str = ""
    notes: tuple[str, ...] = ()


def rows_of_job(rows: Iterable[Row], job: str) -> list[Row]:
    """Rows of one job in any revision, and what strikes rows.

    :param job: with or without its revision.
    """
    code = job.partition("@")[0]
    return [row for row in rows if row.kind == "voided" or row.job.partition("@")[0] == code]


def happened(rows: Iterable[Row]) -> dict[str, Happened]:
    """What became of the steps, by name; struck rows count no more.

    Begun twice is begun once, and done twice done once, at the first of both; begun again after it
    was done, a step runs anew.

    :raises OutOfRange: a time that is none.
    """
    every = list(rows)
    struck = voided_ids(every)
    told = [
        row
        for row in every
        if row.kind in KINDS and row.cup == "" and row.step and row.event_id not in struck
    ]
    found: dict[str, Happened] = {}
    for row in sorted(told, key=lambda row: (milliseconds(row.recorded_at), row.log_id, row.seq)):
        found[row.step] = _after(found.get(row.step, Happened()), row)
    return found


def _after(was: Happened, row: Row) -> Happened:
    if row.kind == "tack_tested":
        return replace(was, tested=row.note, tested_at=row.recorded_at, person=row.person)
    if row.note:
        was = replace(was, notes=(*was.notes, row.note))
    if row.kind == "step_started" and (was.done_at or not was.started_at):
        begun = replace(was, started_at=row.recorded_at, done_at="", shown=row.shown)
        return replace(begun, person=row.person)
    if row.kind == "step_done" and not was.done_at and _is_whole(row):
        shown = was.shown if was.started_at else row.shown
        return replace(was, done_at=row.recorded_at, shown=shown, person=row.person or was.person)
    return was


def _is_whole(row: Row) -> bool:
    return row.step != "demould" or SAMPLE_HARD in row.note
