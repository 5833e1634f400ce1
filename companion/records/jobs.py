"""Jobs as they are kept: a job with its part, and where each stands."""

from collections import defaultdict
from collections.abc import Mapping

from sqlalchemy import select

from ..errors import Taken
from ..trade.cards import Job
from ..trade.job_state import JobState, job_state
from ..trade.rows import Row, voided_ids
from ..trade.serials import read_serial
from . import catalogue, names, parts, plans
from .log import row_of
from .schema import rows
from .store import Store


def keep(store: Store, job: Job, at: str) -> Job:
    """Keep a job as its next revision, and enter the part of its order's serial: both, or none.

    :param job: its revision is the one it was changed from; 0 for a new one.
    :return: the job as kept; the very same where nothing was changed.
    :raises Taken: the code, the revision or the serial is another's.
    :raises OutOfRange: a serial that cannot be printed.
    """
    if job in catalogue.every(store, Job):
        return job
    serial = read_serial(job.order.serial) if job.order and job.order.serial else ""
    held = {part.serial: part for part in parts.every(store)}
    holder = held.get(serial)
    if holder and holder.job.partition("@")[0] != job.code:
        raise Taken("serial", serial, holder.code)
    with store.write() as connection:
        kept = catalogue.revise_card(connection, job, at)
        if serial and not holder:
            parts.enter(connection, kept.name, serial, at)
    return kept


def newest(store: Store, code: str) -> Job:
    """A job in its newest revision.

    :raises NotKnown: there is no such job.
    """
    return catalogue.named(store, Job, code)


def states(store: Store) -> Mapping[str, JobState]:
    """Where every job stands, by its code."""
    by_job = _rows_by_job(store)
    planned = {cup.job.partition("@")[0] for cup in plans.every(store)}
    of_job: dict[str, list[str]] = defaultdict(list)
    for part in parts.every(store):
        of_job[part.job.partition("@")[0]].append(part.code)
    return {
        job.code: job_state(
            by_job.get(job.code, []), planned=job.code in planned, parts=of_job[job.code]
        )
        for job in catalogue.latest(store, Job)
    }


def _rows_by_job(store: Store) -> Mapping[str, list[Row]]:
    """Rows that name a job, and those that strike one of them, by code of the job."""
    query = select(rows).where((rows.c.job != "") | (rows.c.kind == "voided"))
    with store.read() as connection:
        found = [
            row_of(one) for one in connection.execute(query.order_by(rows.c.number)).mappings()
        ]
    struck = voided_ids(found)
    by_job: dict[str, list[Row]] = defaultdict(list)
    for row in found:
        if row.job and row.event_id not in struck:
            by_job[row.job.partition("@")[0]].append(row)
    return by_job


def customer_names(store: Store) -> dict[str, str]:
    """Names of customers by code; of those whose name was not erased."""
    return names.current(store, names.CUSTOMERS)
