from decimal import ROUND_HALF_EVEN, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.numbers import fixed, is_wire_number, parse_entry, step_inside, to_step
from tests.cases import load_cases, mismatch, outcome

steps_g = st.sampled_from([0.01, 0.05, 0.1, 0.5, 1.0, 2.0])


@pytest.mark.parametrize("case", load_cases("numbers"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


@given(typed=st.text(alphabet="0123456789.,- '\u066b\u066c\u0661\u06f2\u00a0ag", max_size=14))
def test_it_reads_any_text_as_a_figure_or_a_problem(typed):
    entry = parse_entry(typed)
    assert bool(entry.value) != bool(entry.problem)
    if entry.value:
        assert entry.value.isascii()
        assert parse_entry(entry.value) == entry
        assert entry.number == float(entry.value)


@given(
    whole=st.integers(0, 9_999_999), decimals=st.integers(0, 6), mark=st.sampled_from(".,\u066b")
)
def test_it_keeps_the_digits_as_they_were_typed(whole, decimals, mark):
    text = f"{whole}.{'7' * decimals}" if decimals else str(whole)
    entry = parse_entry(text.replace(".", mark))
    assert (entry.value, entry.decimals) == (text, decimals)
    assert is_wire_number(entry.value)


@given(value=st.floats(-1e7, 1e7), decimals=st.integers(0, 4))
def test_it_writes_the_nearest_figure_and_the_even_one_at_a_half(value, decimals):
    exact = Decimal(value).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_EVEN)
    assert fixed(value, decimals) == f"{abs(exact) if exact == 0 else exact}"


@given(low_g=st.floats(0, 3000), width_g=st.floats(0, 20), step_g=steps_g)
def test_it_never_rounds_a_limit_outwards(low_g, width_g, step_g):
    high_g = low_g + width_g
    inside = step_inside(low_g, high_g, step_g)
    if inside is None:
        assert width_g < step_g
    else:
        assert low_g - step_g * 1e-6 <= inside[0] <= inside[1] <= high_g + step_g * 1e-6
        assert inside[0] - low_g < step_g
        assert high_g - inside[1] < step_g


@given(value_g=st.floats(0, 3000), step_g=steps_g)
def test_it_finds_the_nearest_display(value_g, step_g):
    assert abs(to_step(value_g, step_g) - value_g) <= step_g / 2 * (1 + 1e-9)
