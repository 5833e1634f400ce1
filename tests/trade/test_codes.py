from itertools import product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from companion.trade.codes import (
    ALPHABET,
    check_character,
    forgive,
    is_label,
    is_valid,
    mint,
)
from tests.cases import load_cases, mismatch, outcome

ISO_7064 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@pytest.mark.parametrize("case", load_cases("codes"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


def test_it_agrees_with_an_independent_library():
    rnd = Random(7064)
    for _ in range(2000):
        payload = "".join(rnd.choices(ISO_7064, k=rnd.randint(1, 20)))
        check = mod_37_36.calc_check_digit(payload)
        assert check_character(payload) == check
        for character in ISO_7064:
            assert is_valid(payload + character) == (character == check)


def test_it_catches_every_single_mistake():
    """CF-09, all states of the check: one character before is enough to reach each of them."""
    for state in ISO_7064:
        checks = {check_character(state + character) for character in ISO_7064}
        assert len(checks) == len(ISO_7064)


def test_it_lets_few_neighbours_change_places():
    """CF-09: 72 of 45 360 swaps of neighbours slip through; own exhaustive count, derived."""
    swaps = [(s, x, y) for s, x, y in product(ISO_7064, repeat=3) if x != y]
    unseen = [s for s, x, y in swaps if check_character(s + x + y) == check_character(s + y + x)]
    assert (len(swaps), len(unseen)) == (45360, 72)


@given(indices=st.lists(st.integers(0, 31), min_size=5, max_size=5))
def test_it_mints_only_codes_it_reads_again(indices):
    code = mint(indices)
    if code is None:
        payload = "".join(ALPHABET[index] for index in indices)
        assert check_character(payload) in "01IO"
    else:
        assert is_label(code)
        typed = f" {code[:3].lower()}-{code[3:]} ".replace("L", "1").replace("l", "i")
        assert forgive(typed).code == code


@given(typed=st.text(max_size=12))
def test_it_reads_any_text_as_a_code_or_a_problem(typed):
    read = forgive(typed)
    assert bool(read.code) != bool(read.problem)
    assert not read.code or is_label(read.code)
    assert all(is_label(proposal) for proposal in read.proposals)
    assert not read.proposals or read.problem == "check"
