import pytest

from companion.trade.cards import ScaleCard, SystemCard
from companion.trade.errors import OutOfRange
from tests.cases import load_cases, mismatch, outcome


@pytest.mark.parametrize("case", load_cases("cards"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


@pytest.mark.parametrize("figure", [float("nan"), float("inf"), -float("inf")])
def test_it_refuses_figures_that_are_none(figure):
    with pytest.raises(OutOfRange) as caught:
        SystemCard("R+H", 1, "R", "H", "SLOW", figure, 2, 150)
    assert caught.value.field == "part_b_pbw"
    with pytest.raises(OutOfRange) as caught:
        ScaleCard("S1", 1, "0.1", figure)
    assert caught.value.field == "capacity_g"


def test_it_says_what_was_refused_and_what_is_allowed():
    with pytest.raises(OutOfRange) as caught:
        SystemCard("R+H", 1, "R", "H", "SLOW", 0, 2, 150)
    assert caught.value.value == 0
    assert str(caught.value) == "part_b_pbw is 0: allowed is a number above 0"
