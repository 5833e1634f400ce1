"""Whatever rows a phone sends: a cup is folded, gets one instruction, and no bad cup passes."""

from dataclasses import replace
from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.trade.cards import PotLife, ScaleCard, SystemCard
from companion.trade.cup import Action, advise, fold
from companion.trade.rows import COLUMNS, KINDS, NUMERIC_KINDS, Row
from companion.trade.weighing import Verdict
from companion.wire.row_check import row_problem

SLOW = SystemCard(
    "RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150, pot_life=PotLife(45, 100, 25)
)
# Hardly any hardener, hardly any tolerance left out, and a step far below any display.
ODD = SystemCard("R+H", 1, "R", "H", "FAST", 1e-4, 99.999999, 1e6, mixed_density_g_cm3=1.1)
CARDS = [
    (SLOW, ScaleCard("S1", 1, "0.1", 3000)),
    (SLOW, ScaleCard("S2", 1, "1", 150, repeatability_g=0.4)),
    (ODD, ScaleCard("S3", 1, "0.000001", 1e9)),
]
NOW = "2026-03-07T10:30:00.000Z"

AT_THE_BENCH = (
    "weighed weighed weighed weighed weighed weighed rezeroed scale_restarted scale_restarted "
    "pour_opened mix_started mixed mixed poured deviation voided felt_warm cup_started"
).split()
kinds = st.one_of(
    st.sampled_from(AT_THE_BENCH), st.sampled_from(AT_THE_BENCH), st.sampled_from(sorted(KINDS))
)
components = st.sampled_from(["cup", "a", "a", "b", "b", "paste", ""])
#: Displays of one cup, so that equal and rising readings come up, and figures of no cup at all.
displays = st.sampled_from(
    "0 0.0 8.4 8.4 121.5 121.5 121.6 141.9 155.4 155.5 158.5 168.7 -0.5 0.000001 "
    "999999999.999999 -999999999.999999".split()
)
places = st.integers(0, 30)


def event_id(place):
    return f"0195e7a0-0000-7000-8000-{place:012d}"


@st.composite
def rows_of_a_phone(draw):
    """Rows that pass the checks on the wire: mostly one chain, with forks, gaps and rings."""
    count = draw(st.integers(1, 14))
    rows = [_row(draw, place, count) for place in range(count)]
    if draw(st.booleans()):
        rows.insert(0, replace(rows[0], event_id=event_id(90), after="", kind="cup_started"))
    for row in rows:
        assert row_problem({name: str(getattr(row, name)) for name in COLUMNS}) == ""
    return draw(st.permutations(rows)) if draw(st.booleans()) else rows


def _row(draw, place, count):
    kind = draw(kinds)
    before = event_id(place - 1) if place else ""
    stray = st.one_of(st.just(""), places.map(event_id))
    refers = kind in ("voided", "deviation") or (kind == "weighed" and draw(places) < 3)
    has_value = kind in NUMERIC_KINDS or (kind == "cup_started" and draw(st.booleans()))
    return Row(
        log_id="0195e7a0-0000-4000-8000-000000000000",
        seq=place + 1,
        event_id=event_id(place),
        after=before if draw(places) > 2 else draw(stray),
        recorded_at=f"2026-03-07T10:{draw(places):02d}:00.000Z",
        utc_offset_min="60",
        kind=kind,
        cup="7K2QMS",
        component=draw(components),
        value=draw(displays) if has_value else "",
        refers_to=event_id(draw(st.integers(0, count))) if refers else "",
        note=draw(st.sampled_from(["", "trial part"])),
    )


@pytest.mark.parametrize("cards", CARDS, ids=["fine", "coarse", "odd"])
@settings(max_examples=400)
@given(rows=rows_of_a_phone(), volume_ml=st.sampled_from([None, 120.0]))
def test_it_gives_one_instruction_whatever_the_rows_say(cards, rows, volume_ml):
    cup = fold(rows, *cards)
    advice = advise(cup, *cards, NOW, 20.0, volume_ml)
    figures = (advice.add_g, advice.display_stop_g, advice.display_limit_g, advice.total_g)
    assert all(figure is None or isfinite(figure) for figure in figures)
    assert advice.add_g is None or advice.add_g >= 0
    if advice.action in (Action.CORRECT, Action.OPEN_HARDENER):
        assert advice.display_stop_g is not None
    if advice.action is Action.SCRAP:
        assert advice.reason


@pytest.mark.parametrize("cards", CARDS, ids=["fine", "coarse", "odd"])
@settings(max_examples=400)
@given(rows=rows_of_a_phone())
def test_it_lets_no_cup_pass_without_both_parts_and_a_verdict(cards, rows):
    cup = fold(rows, *cards)
    if cup.usable:
        assert cup.part_a_g > 0
        assert cup.part_b_g > 0
        assert cup.unknown == ""
        assert cup.verdict in (Verdict.IN, Verdict.IN_UNPROVEN) or cup.deviation
    if cup.verdict is not None:
        assert not cup.pours[-1].unfinished or cup.pours[-1].component not in ("a", "b")


@settings(max_examples=200)
@given(rows=rows_of_a_phone(), order=st.randoms(use_true_random=False))
def test_it_does_not_hang_on_the_order_of_arrival(rows, order):
    shuffled = list(rows)
    order.shuffle(shuffled)
    assert fold(shuffled, *CARDS[0]) == fold(rows, *CARDS[0])
