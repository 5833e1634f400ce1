"""Whatever rows a phone sends: a cup is folded, gets one instruction, and no bad cup passes."""

from dataclasses import replace
from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.trade.cards import PotLife, ScaleCard, SystemCard
from companion.trade.cup import Action, advise, fold
from companion.trade.cup.additive import PlannedAdditive
from companion.trade.rows import COLUMNS, KINDS, NUMERIC_KINDS, Row
from companion.trade.weighing import Verdict
from companion.wire.row_check import row_problem

SLOW = SystemCard(
    "RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150, pot_life=PotLife(45, 100, 25)
)
# Figures at their edges: hardly any hardener, a tolerance of nearly all, the smallest step.
ODD = SystemCard("R+H", 1, "R", "H", "FAST", 1e-4, 99.999999, 1e6, mixed_density_g_cm3=1.1)
CARDS = [
    (SLOW, ScaleCard("S1", 1, "0.1", 3000)),
    (SLOW, ScaleCard("S2", 1, "1", 150, repeatability_g=0.4)),
    (ODD, ScaleCard("S3", 1, "0.000001", 1e9)),
]
PHONE = Row(
    log_id="0195e7a0-0000-4000-8000-000000000000",
    recorded_at="2026-03-07T10:00:00.000Z",
    utc_offset_min="60",
    cup="7K2QMS",
)
NOW = "2026-03-07T10:30:00.000Z"

#: A cup as it should be, with a scale that died in the middle of the hardener.
A_CUP = (
    ("cup_started", "", ("146.4", "")),
    ("weighed", "cup", ("8.4",)),
    ("weighed", "a", ("121.5",)),
    ("pour_opened", "b", ("",)),
    ("scale_restarted", "b", ("141.9", "121.5")),
    ("weighed", "b", ("155.4", "158.5", "141.9")),
    ("weighed", "a", ("168.7", "163.0")),
    ("deviation", "", ("",)),
    ("mix_started", "", ("",)),
    ("mixed", "", ("",)),
    ("poured", "", ("",)),
)
#: Displays of that cup and of none, so that equal and rising readings come up.
DISPLAYS = (
    "0 0.0 8.4 121.5 121.6 141.9 155.4 155.5 158.5 168.7 -0.5 0.000001 "
    "999999999.999999 -999999999.999999"
).split()
AT_THE_BENCH = sorted({kind for kind, _, _ in A_CUP} | {"rezeroed", "voided", "felt_warm"})

strange_steps = st.tuples(
    st.one_of(st.sampled_from(AT_THE_BENCH), st.sampled_from(sorted(KINDS))),
    st.sampled_from(["cup", "a", "b", "paste", ""]),
    st.lists(st.sampled_from(DISPLAYS), min_size=1, max_size=1),
)
chances = st.integers(0, 99)


def event_id(place):
    return f"0195e7a0-0000-7000-8000-{place:012d}"


@st.composite
def rows_of_a_phone(draw):
    """Rows that pass the checks on the wire: a cup with rows missing and strange ones between."""
    steps = []
    for step in A_CUP:
        if draw(chances) < 12:
            steps.append(draw(strange_steps))
        if draw(chances) < 80:
            steps.append(step)
    steps = steps if draw(chances) < 85 else draw(st.lists(strange_steps, max_size=14))
    if draw(chances) < 60:
        steps = steps[: draw(st.integers(0, len(steps)))]
    rows = [_row(draw, place, *step) for place, step in enumerate(steps)]
    if not rows or draw(chances) < 10:
        rows.insert(0, replace(PHONE, seq=99, event_id=event_id(99), kind="cup_started"))
    for row in rows:
        assert row_problem({name: str(getattr(row, name)) for name in COLUMNS}) == ""
    return draw(st.permutations(rows)) if draw(chances) < 30 else rows


def _row(draw, place, kind, component, values):
    before = event_id(place - 1) if place else ""
    stray = st.sampled_from(["", *(event_id(n) for n in range(place + 2))])
    refers = kind in ("voided", "deviation") or (kind == "weighed" and draw(chances) < 5)
    has_value = kind in NUMERIC_KINDS or kind == "cup_started"
    return replace(
        PHONE,
        seq=place + 1,
        event_id=event_id(place),
        after=before if draw(chances) < 95 else draw(stray),
        recorded_at=f"2026-03-07T10:{place if draw(chances) < 90 else 30:02d}:00.000Z",
        kind=kind,
        component=component,
        value=draw(st.sampled_from(values)) if has_value else "",
        refers_to=draw(stray) if refers else "",
        note=draw(st.sampled_from(["", "trial part"])),
    )


@pytest.mark.parametrize("cards", CARDS, ids=["fine", "coarse", "odd"])
@settings(max_examples=200)
@given(
    rows=rows_of_a_phone(),
    volume_ml=st.sampled_from([None, 120.0]),
    additive=st.sampled_from([None, PlannedAdditive("paste", 8.0, 5.0)]),
)
def test_it_gives_one_instruction_whatever_the_rows_say(cards, rows, volume_ml, additive):
    cup = fold(rows, *cards)
    advice = advise(cup, *cards, NOW, 20.0, volume_ml, additive)
    figures = (advice.add_g, advice.display_stop_g, advice.display_limit_g, advice.total_g)
    assert all(figure is None or isfinite(figure) for figure in figures)
    assert advice.add_g is None or advice.add_g >= 0
    if advice.action in (Action.CORRECT, Action.OPEN_HARDENER):
        assert advice.display_stop_g is not None
    if advice.action is Action.SCRAP:
        assert advice.reason


@pytest.mark.parametrize("cards", CARDS, ids=["fine", "coarse", "odd"])
@settings(max_examples=200)
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
