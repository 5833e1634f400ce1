"""Where a job stands, folded from its rows."""

import pytest

from companion.trade.job_state import JobState, job_state
from companion.trade.rows import Row


def row(kind: str, step: str = "", **more: str) -> Row:
    return Row(kind=kind, step=step, event_id=more.pop("id", f"{kind} {step}"), **more)


COAT, PLY = row("poured", "surface coat"), row("step_started", "ply 1")
CURE, DEMOULD = row("step_started", "cure"), row("step_done", "demould", note="sample hard")
SOFT = row("step_done", "demould", note="sample soft")
SENT = row("shipped", component="P1")
STRUCK = row("voided", refers_to="step_done demould")


@pytest.mark.parametrize(
    "rows, planned, parts, state",
    [
        ([], False, [], JobState("no_plan")),
        ([], True, [], JobState("planned")),
        ([COAT], True, [], JobState("in_work", "surface coat")),
        ([COAT, PLY], True, [], JobState("in_work", "ply 1")),
        ([row("cup_started")], True, [], JobState("in_work")),
        ([COAT, PLY, CURE], True, [], JobState("curing")),
        ([PLY, row("step_done", "trim")], True, [], JobState("curing")),
        ([PLY, CURE, DEMOULD], True, [], JobState("demoulded")),
        ([PLY, CURE, SOFT], True, [], JobState("curing")),
        ([PLY, CURE, DEMOULD, STRUCK], True, [], JobState("curing")),
        ([DEMOULD, SENT], True, ["P1"], JobState("shipped")),
        # One of two parts is still here.
        ([DEMOULD, SENT], True, ["P1", "P2"], JobState("demoulded")),
        ([SENT], True, [], JobState("shipped")),
    ],
)
def test_the_rows_tell_where_a_job_stands(rows, planned, parts, state):
    assert job_state(rows, planned=planned, parts=parts) == state
