import pytest

from tests.cases import load_cases, mismatch, outcome

CASES = [
    case for name in ("finding", "unidentified", "auto_off", "running") for case in load_cases(name)
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""
