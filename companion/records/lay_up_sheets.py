"""Lay-up sheets of the jobs under way, and the rows of no cup that belong to them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from sqlalchemy import ColumnElement, select

from ..errors import NotKnown
from ..trade.cards import Job, ReleaseAgent
from ..trade.errors import OutOfRange
from ..trade.lay_up_rows import is_whole
from ..trade.rows import Row, voided_ids
from ..trade.steps import Step, steps
from ..trade.times import format_utc, parse_utc
from . import catalogue
from .log import row_of
from .schema import rows
from .store import Store

#: Kinds of rows that say what became of a step.
STEP_KINDS = ("step_started", "step_done", "tack_tested")
#: The last step: a job whose part has left the mould needs no sheet at the bench.
LAST_STEP = "demould"
#: How long air and mould are told to every phone. The clocks of a part in the mould count at every
#: reading since its last layer: full cure takes a week at most sheets, and the reading in force at
#: its start may be a day older.
CLIMATE_FOR = timedelta(days=8)


@dataclass(frozen=True, slots=True)
class Sheet:
    """The steps of one job in its newest revision.

    :ivar job: with its revision.
    """

    job: str
    steps: tuple[Step, ...]


def open_sheets(store: Store) -> list[Sheet]:
    """Sheets of the jobs whose part is still in the mould, by code of the job.

    Work that has begun goes on by the revision it began with: another one would give other names
    to what lies in the mould already.
    """
    begun, done = first_steps(store), demoulded(store)
    found = []
    for newest in catalogue.latest(store, Job):
        first = begun.get(newest.code)
        job = _in_work(store, newest, first)
        if job.order is None or job.code in done:
            continue
        try:
            agents = _agents(store, job.order.release_agent, first)
            found.append(Sheet(job.name, steps(job.order, agents)))
        except OutOfRange:
            # A job that names a release agent nobody knows has no sheet; its page says so.
            continue
    return found


def first_steps(store: Store) -> dict[str, Row]:
    """By code of a job, the first row of its lay-up that stands."""
    struck = voided_ids(_without_cup(store, rows.c.kind == "voided"))
    found: dict[str, Row] = {}
    for row in _without_cup(store, rows.c.kind.in_(STEP_KINDS)):
        if row.event_id not in struck:
            found.setdefault(row.job.partition("@")[0], row)
    return found


def _in_work(store: Store, newest: Job, first: Row | None) -> Job:
    if first is None or first.job == newest.name:
        return newest
    kept = [one.card for one in catalogue.revisions(store, Job, newest.code)]
    return next((job for job in kept if job.name == first.job), newest)


def _agents(store: Store, code: str, first: Row | None) -> dict[str, ReleaseAgent]:
    """The release agent as it was when the work began; nothing where no card is known."""
    try:
        kept = catalogue.revisions(store, ReleaseAgent, code)
    except NotKnown:
        return {}
    then = [one for one in kept if first is not None and one.made_at <= first.recorded_at]
    return {code: (then[-1] if then else kept[-1]).card}


def rows_of(store: Store, codes: Sequence[str]) -> list[Row]:
    """Rows about steps of these jobs, in the order they came; codes without revision."""
    wanted = rows.c.kind.in_([*STEP_KINDS, "deviation", "note", "voided"])
    return [
        row
        for row in _without_cup(store, wanted)
        if row.kind == "voided" or row.job.partition("@")[0] in codes
    ]


def shop_rows(store: Store, sheets: Sequence[Sheet], now_utc: str) -> list[Row]:
    """Rows of no cup a phone folds: steps of these jobs, and what was measured of late."""
    since = format_utc(parse_utc(now_utc) - CLIMATE_FOR)
    measured = _without_cup(store, (rows.c.kind == "climate") & (rows.c.recorded_at >= since))
    return [*rows_of(store, [sheet.job.partition("@")[0] for sheet in sheets]), *measured]


def demoulded(store: Store) -> set[str]:
    """Codes of the jobs whose part has left the mould, by a row that stands."""
    struck = voided_ids(_without_cup(store, rows.c.kind == "voided"))
    wanted = (rows.c.kind == "step_done") & (rows.c.step == LAST_STEP)
    return {
        row.job.partition("@")[0]
        for row in _without_cup(store, wanted)
        if row.event_id not in struck and is_whole(row)
    }


def _without_cup(store: Store, wanted: ColumnElement[bool]) -> list[Row]:
    query = select(rows).where(rows.c.cup == "", wanted).order_by(rows.c.number)
    with store.read() as connection:
        return [row_of(found) for found in connection.execute(query).mappings()]
