from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.chain import cups, double_filled, in_order
from companion.trade.rows import Row
from tests.cases import load_cases, mismatch, outcome


@pytest.mark.parametrize("case", load_cases("chain"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


@st.composite
def branching_rows(draw):
    """Rows of some cups, each after an earlier one: chains that fork, as phones write them."""
    rows: list[Row] = []
    for number in range(draw(st.integers(1, 12))):
        before = draw(st.sampled_from([*rows, None])) if rows else None
        kind = draw(st.sampled_from(["weighed", "pour_opened", "note"]))
        rows.append(
            Row(
                log_id=draw(st.sampled_from(["p1", "p2"])),
                seq=number,
                event_id=f"e{number}",
                after=before.event_id if before else "",
                recorded_at=f"2026-03-07T10:0{draw(st.integers(0, 9))}:00.000Z",
                kind=kind if before else "cup_started",
                cup="7K2QMS",
            )
        )
    return rows


@given(rows=branching_rows(), seed=st.integers(0, 1000))
def test_it_does_not_hang_on_the_order_of_arrival(rows, seed):
    shuffled = Random(seed).sample(rows, k=len(rows))
    assert in_order(shuffled) == in_order(rows)
    assert cups(shuffled) == cups(rows)
    assert double_filled(shuffled) == double_filled(rows)


@given(rows=branching_rows())
def test_it_keeps_every_row_and_puts_none_before_the_one_it_follows(rows):
    ordered = in_order(rows)
    assert sorted(row.seq for row in ordered) == [row.seq for row in rows]
    places = {row.event_id: place for place, row in enumerate(ordered)}
    assert all(places[row.after] < places[row.event_id] for row in ordered if row.after)
    assert sum(len(cup) for cup in cups(rows)) == len(rows)
