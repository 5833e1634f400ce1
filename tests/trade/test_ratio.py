import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.ratio import (
    effective_ratio,
    filler_fraction,
    hardener_window_g,
    ratio_error,
    targets,
    top_up,
)
from tests.cases import load_cases, mismatch, outcome

masses_g = st.floats(0.1, 5000)
ratios = st.floats(0.05, 1.5)


@pytest.mark.parametrize("case", load_cases("ratio"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


@given(part_a_g=masses_g, part_b_g=masses_g, ratio=ratios)
def test_it_brings_any_cup_to_its_ratio_by_one_addition(part_a_g, part_b_g, ratio):
    addition = top_up(part_a_g, part_b_g, ratio)
    poured = {"a": part_a_g, "b": part_b_g}
    poured[addition.component] += addition.add_g
    assert addition.add_g >= 0
    assert ratio_error(poured["a"], poured["b"], ratio) == pytest.approx(0, abs=1e-12)
    assert addition.total_g == pytest.approx(poured["a"] + poured["b"], rel=1e-12)


@given(total_g=masses_g, ratio=ratios)
def test_it_splits_a_total_without_loss(total_g, ratio):
    split = targets(total_g, ratio)
    assert split.part_a_g + split.part_b_g == pytest.approx(total_g, rel=1e-12)
    assert ratio_error(split.part_a_g, split.part_b_g, ratio) == pytest.approx(0, abs=1e-12)


@given(part_a_g=masses_g, ratio=ratios, tolerance=st.floats(0.001, 0.5))
def test_it_ends_the_window_where_the_tolerance_ends(part_a_g, ratio, tolerance):
    low_g, high_g = hardener_window_g(part_a_g, ratio, tolerance)
    assert ratio_error(part_a_g, low_g, ratio) == pytest.approx(-tolerance, abs=1e-12)
    assert ratio_error(part_a_g, high_g, ratio) == pytest.approx(tolerance, abs=1e-12)


@given(clean_g=masses_g, filler_phr=st.floats(0, 200), ratio=ratios)
def test_it_gives_filled_resin_the_hardener_of_its_clean_share(clean_g, filler_phr, ratio):
    filled_g = clean_g * (1 + filler_phr / 100)
    part_b_g = filled_g * effective_ratio(ratio, filler_fraction(filler_phr))
    assert part_b_g == pytest.approx(clean_g * ratio, rel=1e-12)
