import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.cards import PotLife, SystemCard
from companion.trade.clocks import pot_life_min
from tests.cases import load_cases, mismatch, outcome


@pytest.mark.parametrize("case", load_cases("clocks"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


MEASURED = [*load_cases("air"), *load_cases("climate_reading")]


@pytest.mark.parametrize("case", MEASURED, ids=lambda case: case["name"])
def test_air_and_mould_agree_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


@given(minutes=st.floats(1, 300), one_c=st.floats(-10, 50), other_c=st.floats(-10, 50))
def test_it_never_gives_more_time_for_more_warmth(minutes, one_c, other_c):
    card = SystemCard("R+H", 1, "R", "H", "SLOW", 30, 2, 150, pot_life=PotLife(minutes, 100, 25))
    cold_min, warm_min = (pot_life_min(card, c) for c in sorted((one_c, other_c)))
    assert warm_min <= cold_min <= minutes
    assert warm_min == int(warm_min)
