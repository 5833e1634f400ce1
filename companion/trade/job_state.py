"""Where a job stands, folded from the rows that name it."""

from collections.abc import Iterable
from dataclasses import dataclass

from .lay_up_rows import is_whole
from .rows import Row, voided_ids

#: States of a job, in the order they come.
NO_PLAN, PLANNED, IN_WORK, CURING, DEMOULDED, SHIPPED = (
    "no_plan",
    "planned",
    "in_work",
    "curing",
    "demoulded",
    "shipped",
)


@dataclass(frozen=True, slots=True)
class JobState:
    """One of the states, and the step the work has come to; empty where none was recorded."""

    state: str
    step: str = ""


def job_state(rows: Iterable[Row], *, planned: bool, parts: Iterable[str] = ()) -> JobState:
    """State of a job.

    :param rows: all that name the job, with the rows that strike some, in the order they came.
    :param planned: whether cups of it are planned.
    :param parts: codes of its parts; it is shipped when every one of them is.
    """
    listed = list(rows)
    struck = voided_ids(listed)
    standing = [row for row in listed if row.event_id not in struck and row.kind != "voided"]
    shipped = {row.component for row in standing if row.kind == "shipped"}
    if shipped and shipped >= set(parts):
        return JobState(SHIPPED)
    at_work = [row for row in standing if row.kind != "shipped"]
    done = {row.step for row in at_work if row.kind == "step_done" and is_whole(row)}
    begun = done | {row.step for row in at_work if row.kind == "step_started"}
    if "demould" in done:
        return JobState(DEMOULDED)
    if "cure" in begun or "trim" in done:
        return JobState(CURING)
    if at_work:
        return JobState(IN_WORK, next((row.step for row in reversed(at_work) if row.step), ""))
    return JobState(PLANNED if planned else NO_PLAN)
