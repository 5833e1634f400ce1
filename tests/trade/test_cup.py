from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from companion.trade.cards import PotLife, ScaleCard, SystemCard
from companion.trade.cup import Action, CupState, advise, fold
from companion.trade.cup.window import window
from companion.trade.numbers import fixed, step_inside, to_step
from companion.trade.ratio import ratio_error
from companion.trade.rows import Row
from companion.trade.weighing import (
    Pour,
    Verdict,
    expanded_uncertainty,
    net_of,
    reading_variance_g2,
    verdict,
)
from tests.bench.made_up_rows import rows_of_a_cup, scale_card, system_card
from tests.cases import build, load_cases, mismatch, outcome

SLOW = SystemCard(
    "RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 1000, pot_life=PotLife(45, 100, 25)
)
S1 = ScaleCard("S1", 1, "0.1", 3000)
NOW = "2026-03-07T10:05:00.000Z"


CUP_FILES = "cup additive pot_clock mixing waiting sharing".split()
CUP_CASES = [case for name in CUP_FILES for case in load_cases(name)]


@pytest.mark.parametrize("case", CUP_CASES, ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


def rows_of(*readings, planned="146.4"):
    """Rows of one cup from pairs of component and display."""
    rows = [Row(event_id="e0", kind="cup_started", cup="7K2QMS", value=planned, recorded_at=NOW)]
    for component, display_g in readings:
        rows.append(
            Row(
                event_id=f"e{len(rows)}",
                after=rows[-1].event_id,
                recorded_at=NOW,
                kind="weighed",
                cup="7K2QMS",
                component=component,
                value=fixed(display_g, 1),
            )
        )
    return rows


displays_g = st.integers(400, 4000).map(lambda tenths: tenths / 10)


@given(part_a_g=displays_g, slip=st.floats(0.5, 1.5))
def test_it_ends_in_tolerance_when_its_advice_is_followed(part_a_g, slip):
    stop_b_g = to_step(8.4 + part_a_g * (1 + 0.3 * slip), 0.1)
    readings = [("cup", 8.4), ("a", 8.4 + part_a_g), ("b", stop_b_g)]
    advice = advise(fold(rows_of(*readings), SLOW, S1), SLOW, S1, NOW)
    if advice.action is Action.CORRECT:
        readings.append((advice.component, to_step(advice.display_stop_g, 0.1)))
        corrected = fold(rows_of(*readings), SLOW, S1)
        # "in" wherever the scale allows it: uncertainty and rounding within the tolerance.
        rounding = 0.05 / min(corrected.part_a_g, corrected.part_b_g)
        if corrected.uncertainty + rounding <= SLOW.tolerance:
            assert corrected.verdict is Verdict.IN
        assert corrected.verdict in (Verdict.IN, Verdict.IN_UNPROVEN)
        assert corrected.corrections == 1
        assert advise(corrected, SLOW, S1, NOW).action is Action.MIX
    else:
        assert advice.action is Action.MIX


def judged(cup, component, display_g):
    """Verdict if the display stood there after the pour; independent of the window's own search."""
    pours = [*cup.pours, Pour(component, display_g - cup.display_g, cup.opens)]
    error = ratio_error(net_of(pours, "a"), net_of(pours, "b"), SLOW.ratio)
    expanded = expanded_uncertainty(pours, SLOW.ratio, reading_variance_g2(0.1))
    return verdict(error, SLOW.tolerance, expanded)


@given(part_a_g=displays_g, over=st.floats(1.03, 1.5), is_rich=st.booleans())
def test_it_draws_the_window_where_the_verdict_changes(part_a_g, over, is_rich):
    readings = [("cup", 8.4), ("a", 8.4 + part_a_g)]
    if is_rich:
        readings.append(("b", to_step(8.4 + part_a_g * (1 + 0.3 * over), 0.1)))
    cup, component = fold(rows_of(*readings), SLOW, S1), "a" if is_rich else "b"
    limits = window(cup, component, SLOW, S1)
    assert judged(cup, component, limits.accept_low_g + 1e-6) is not Verdict.OUT_UNPROVEN
    assert judged(cup, component, limits.accept_low_g - 1e-6) is Verdict.OUT_UNPROVEN
    assert judged(cup, component, limits.accept_high_g + 1e-6) is Verdict.OUT_UNPROVEN
    assume(limits.proven_low_g is not None)
    assert limits.accept_low_g < limits.proven_low_g < limits.proven_high_g < limits.accept_high_g
    assert judged(cup, component, limits.proven_low_g) is Verdict.IN
    assert judged(cup, component, limits.proven_high_g) is Verdict.IN
    assert judged(cup, component, limits.proven_low_g - 1e-6) is Verdict.IN_UNPROVEN
    assert judged(cup, component, limits.proven_high_g + 1e-6) is Verdict.IN_UNPROVEN


@given(part_a_g=displays_g)
def test_it_judges_every_step_inside_the_window_as_in_tolerance(part_a_g):
    readings = [("cup", 8.4), ("a", 8.4 + part_a_g)]
    limits = window(fold(rows_of(*readings), SLOW, S1), "b", SLOW, S1)
    inside = step_inside(limits.accept_low_g, limits.accept_high_g, 0.1)
    assume(inside is not None)
    for display_g in inside:
        done = fold(rows_of(*readings, ("b", display_g)), SLOW, S1)
        assert done.verdict in (Verdict.IN, Verdict.IN_UNPROVEN)


@pytest.mark.parametrize("seed", range(60))
def test_it_does_not_hang_on_the_order_of_arrival(seed):
    rnd = Random(seed)
    system, scale = system_card(rnd), scale_card(rnd, "0.1")
    rows = [build(Row, row) for row in rows_of_a_cup(rnd, system, scale)]
    cards = build(SystemCard, system), build(ScaleCard, scale)
    folded = fold(rows, *cards)
    for _ in range(5):
        rnd.shuffle(rows)
        assert fold(rows, *cards) == folded


@given(tenths=st.lists(st.integers(1, 500), min_size=1, max_size=8), data=st.data())
def test_it_loses_no_mass_between_the_readings(tenths, data):
    shown, readings = 84, [("cup", 8.4)]
    for step in tenths:
        shown += step
        readings.append((data.draw(st.sampled_from(["a", "b", "paste"])), shown / 10))
    cup = fold(rows_of(*readings), SLOW, S1)
    assert cup.total_g == pytest.approx(shown / 10 - 8.4, abs=1e-9)
    assert cup.unknown == ""
    poured = {component for component, _ in readings}
    assert (cup.state is CupState.JUDGED) == ({"a", "b"} <= poured)
