import pytest

from companion.trade.identity import REASON_MAY_PASS, CanProblem
from tests.cases import load_cases, mismatch, outcome


@pytest.mark.parametrize("case", load_cases("identity"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


def test_it_lets_no_reason_pass_the_wrong_material():
    assert set(CanProblem) - REASON_MAY_PASS == {CanProblem.WRONG_MATERIAL}
