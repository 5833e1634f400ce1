"""The lay-up sheet in its moments; the phone runs the same cases."""

import pytest

from companion.trade.cards import ReleaseAgent
from companion.trade.job_order import CoatOrder, JobOrder, PlyOrder
from companion.trade.lay_up import fold_sheet
from companion.trade.lay_up_state import SheetCards
from companion.trade.steps import steps
from tests.cases import load_cases, mismatch, outcome

WAX = ReleaseAgent("WAX-1", 1, coats=2, between_min=30, last_min=60)
ORDER = JobOrder(
    "14",
    "hatch cover",
    0.34,
    0.48,
    (PlyOrder("C200", 200, layers=2),),
    "RES-L+HRD-S",
    peel_ply_g_m2=40,
    surface_coat=CoatOrder("SRF-A+SRF-B", 350),
    release_agent="WAX-1",
)


@pytest.mark.parametrize("case", load_cases("lay_up"), ids=lambda case: case["name"])
def test_it_agrees_with_the_cases(case):
    assert mismatch(case, outcome(case)) == ""


def test_the_steps_of_a_job_stand_in_the_order_of_the_work():
    made = steps(ORDER, {"WAX-1": WAX})
    cards = SheetCards(release_agents=(WAX,))
    sheet = fold_sheet(made, [], cards, "2026-03-07T08:00:00.000Z")
    assert [state.step.name for state in sheet.steps] == [
        *("mould", "release 1", "release 2", "surface coat", "tack", "ply 1", "ply 2"),
        *("peel ply", "trim", "cure", "demould"),
    ]
    assert sheet.current == "mould"
