"""What the log says about each step of a job: begun, done, tested, and what was written at it.

Clocks of two phones differ. A row that names another one (``refers_to``) comes after it whatever
the times say: a ``step_done`` the start it ends, a ``step_started`` the end it follows.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from .rows import Row, by_id, voided_ids
from .times import milliseconds

#: Kinds that tell of a step; the last two only add their words.
KINDS = frozenset("step_started step_done tack_tested deviation note".split())
#: What the record of a demoulding must hold; without it the part is taken to be in the mould.
SAMPLE_HARD = "sample hard"
#: What is written at a peel ply that was left out: no layer lies there.
LEFT_OUT = "left out"
#: Steps in which a surface is prepared: name of the step, then of the ply it is done for.
_PREPARE = "prepare "
#: Kinds that concern every job.
_OF_ALL = frozenset({"voided", "climate"})


@dataclass(frozen=True, slots=True)
class Happened:
    """What became of one step. Times RFC 3339, empty where it did not happen.

    :ivar shown: what the screen said of the bond when the step began.
    :ivar tested: result of the last finger test: ``not_yet``, ``ready`` or ``too_late``.
    :ivar start_ids: event ids of the rows that say it began; the first one counts.
    :ivar done_id: event id of the row that says it ended.
    """

    started_at: str = ""
    done_at: str = ""
    shown: str = ""
    tested: str = ""
    tested_at: str = ""
    person: str = ""
    notes: tuple[str, ...] = ()
    start_ids: tuple[str, ...] = ()
    done_id: str = ""


def rows_of_job(rows: Iterable[Row], job: str) -> list[Row]:
    """Rows of one job in any revision, what was measured in the shop, and what strikes rows.

    :param job: with or without its revision.
    """
    code = job.partition("@")[0]
    return [row for row in rows if row.kind in _OF_ALL or row.job.partition("@")[0] == code]


def happened(rows: Iterable[Row]) -> dict[str, Happened]:
    """What became of the steps, by name; struck rows count no more.

    Begun twice is begun once, and done twice done once, at the first of both; begun again after it
    was done, a step runs anew, unless that start names another row than that end. A surface is
    prepared as the last row about it says.

    :raises OutOfRange: a time that is none.
    """
    every = list(rows)
    struck = voided_ids(every)
    told = [
        row
        for row in every
        if row.kind in KINDS and row.cup == "" and row.step and row.event_id not in struck
    ]
    starts = {row.event_id: row.step for row in told if row.kind == "step_started"}
    found: dict[str, Happened] = {}
    for row in _in_order(told):
        found[row.step] = _after(found.get(row.step, Happened()), row, starts)
    return found


def is_whole(row: Row) -> bool:
    """Whether a ``step_done`` ends its step: demoulding does so once the sample was hard."""
    return row.step != "demould" or SAMPLE_HARD in row.note


def _in_order(rows: Sequence[Row]) -> list[Row]:
    """By their times, but for rows that name another one: that one comes before them."""
    timed = sorted(rows, key=lambda row: (milliseconds(row.recorded_at), row.log_id, row.seq))
    waiting = by_id(timed)
    ordered: list[Row] = []
    while waiting:
        chain = [waiting.pop(next(iter(waiting)))]
        while chain[-1].refers_to in waiting:
            chain.append(waiting.pop(chain[-1].refers_to))
        ordered.extend(reversed(chain))
    return ordered


def _after(was: Happened, row: Row, starts: Mapping[str, str]) -> Happened:
    if row.kind == "tack_tested":
        return replace(was, tested=row.note, tested_at=row.recorded_at, person=row.person)
    if row.kind == "step_done" and row.step.startswith(_PREPARE):
        notes = (row.note,) if row.note else ()
        return _done(replace(was, done_at="", person="", notes=notes), row)
    if row.note:
        was = replace(was, notes=(*was.notes, row.note))
    if row.kind == "step_started":
        return _begun(was, row)
    if row.kind == "step_done" and not was.done_at and is_whole(row) and _ends(was, row, starts):
        return _done(was, row)
    return was


def _begun(was: Happened, row: Row) -> Happened:
    is_anew = row.refers_to in ("", was.done_id) if was.done_at else not was.started_at
    if not is_anew:
        return replace(was, start_ids=(*was.start_ids, row.event_id))
    begun = replace(was, started_at=row.recorded_at, done_at="", shown=row.shown)
    return replace(begun, person=row.person, start_ids=(row.event_id,), done_id="")


def _ends(was: Happened, row: Row, starts: Mapping[str, str]) -> bool:
    """Whether an end is that of the run now: not where it names the start of an earlier one."""
    return row.refers_to in was.start_ids or starts.get(row.refers_to) != row.step


def _done(was: Happened, row: Row) -> Happened:
    return replace(
        was,
        done_at=row.recorded_at,
        shown=was.shown if was.started_at else row.shown,
        person=row.person or was.person,
        done_id=row.event_id,
    )
