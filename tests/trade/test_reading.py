import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.cards import ScaleCard
from companion.trade.numbers import fixed
from companion.trade.reading import check_reading
from tests.cases import load_cases, mismatch, outcome

S1 = ScaleCard("S1", 1, "0.1", 3000)


@pytest.mark.parametrize("case", load_cases("reading"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


@given(tenths=st.integers(0, 30000), mark=st.sampled_from(".,"))
def test_it_takes_every_figure_the_scale_can_show(tenths, mark):
    shown = fixed(tenths / 10, 1)
    assert check_reading(shown.replace(".", mark), S1).value == shown


@given(typed=st.text(alphabet="0123456789.,- ", max_size=8), expected_g=st.floats(1, 3000))
def test_it_takes_only_figures_the_scale_can_show(typed, expected_g):
    check = check_reading(typed, S1, expected_g=expected_g)
    assert bool(check.value) != bool(check.problem)
    if check.value:
        assert check.value == fixed(float(check.value), 1) or check.value.startswith("0")
        assert float(check.value) <= S1.capacity_g


@given(tenths=st.integers(10, 30000), factor=st.sampled_from([10, 0.1, 1 / 28.349523125]))
def test_it_asks_about_a_slip_and_takes_it_only_once_confirmed(tenths, factor):
    expected_g = tenths / 10
    typed = fixed(expected_g * factor, 1)
    check = check_reading(typed, S1, expected_g=expected_g)
    if check.problem in ("tenfold", "ounces"):
        assert check.ask
        assert abs(float(check.proposal) - expected_g) <= 0.15 * expected_g + 0.05
        assert check_reading(typed, S1, expected_g=expected_g, confirmed=True).problem in (
            "",
            "capacity",
        )
    else:
        # So small a figure is rounded too far from the slip to be known as one.
        assert float(typed) < 1
