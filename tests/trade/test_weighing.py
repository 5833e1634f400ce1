from math import sqrt
from random import Random

import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.weighing import (
    Pour,
    Verdict,
    expanded_uncertainty,
    net_of,
    ratio_u_rel,
    reading_variance_g2,
    smallest_cup_g,
    verdict,
)
from tests.cases import load_cases, mismatch, outcome


@pytest.mark.parametrize("case", load_cases("weighing"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


def u_rel_by_gtc(pours, variance_g2):
    """The same cup as a calculation with uncertain readings: no formula of ours in it."""
    display = GTC.ureal(0, sqrt(variance_g2))
    nets = {"a": 0, "b": 0, "x": 0}
    shown_g = 0.0
    for index, pour in enumerate(pours):
        if pour.opens and index:
            display, shown_g = GTC.ureal(0, sqrt(variance_g2)), 0.0
        shown_g += pour.net_g
        after = GTC.ureal(shown_g, sqrt(variance_g2))
        nets[pour.component] = nets[pour.component] + (after - display)
        display = after
    ratio = nets["b"] / nets["a"]
    return GTC.uncertainty(ratio) / GTC.value(ratio)


SCHEMES = {
    "running": "a100 b30",
    "re-tared": "a100 !b30",
    "hardener first": "b30 a100",
    "hardener first, re-tared": "b30 !a100",
    "corrected by resin": "a200 b66 a20",
    "corrected by hardener": "a200 b55 b5",
    "corrected twice": "a200 b66 a15 b2",
    "re-tared before the correction": "a200 b66 !a20",
    "re-tared within the resin": "a60 !a40 b30",
    "resin in three pours": "a50 a30 a20 b30",
    "paste between": "a100 x5 b30",
    "paste first": "x5 a100 b30",
    "paste last": "a100 b30 x5",
    "equal parts": "a100 b100",
}


def pours_of(text):
    words = text.split()
    return [
        Pour(word.lstrip("!")[0], float(word.lstrip("!")[1:]), index == 0 or word[0] == "!")
        for index, word in enumerate(words)
    ]


@pytest.mark.parametrize("text", SCHEMES.values(), ids=SCHEMES)
@pytest.mark.parametrize("readability_g", [0.1, 1.0])
def test_it_agrees_with_a_library_of_uncertain_numbers(text, readability_g):
    pours, variance_g2 = pours_of(text), reading_variance_g2(readability_g, 0.05)
    assert ratio_u_rel(pours, variance_g2) == pytest.approx(
        u_rel_by_gtc(pours, variance_g2), rel=1e-9
    )


def test_it_agrees_with_that_library_for_any_sequence():
    rnd = Random(7)
    for _ in range(200):
        pours = [
            Pour(rnd.choice("aabbx"), rnd.uniform(1, 200), index == 0 or rnd.random() < 0.3)
            for index in range(rnd.randint(0, 6))
        ] + [Pour("a", 50.0), Pour("b", 15.0, rnd.random() < 0.5)]
        assert ratio_u_rel(pours, 0.01) == pytest.approx(u_rel_by_gtc(pours, 0.01), rel=1e-9)


@pytest.mark.parametrize(
    ("ratio", "expected"), [(1.0, 1.22474487139), (0.3, 1.12926053584), (0.1, 1.04833673073)]
)
def test_it_is_less_sure_on_a_running_display(ratio, expected):
    """WM-15: sqrt((1+r+r^2)/(1+r^2)); own derivation, derived."""
    parts_g = 100.0, 100.0 * ratio
    running = [Pour("a", parts_g[0], True), Pour("b", parts_g[1])]
    retared = [Pour("a", parts_g[0], True), Pour("b", parts_g[1], True)]
    share = ratio_u_rel(running, 0.01) / ratio_u_rel(retared, 0.01)
    assert share == pytest.approx(expected, rel=1e-9)


@given(
    ratio=st.floats(0.05, 1.5),
    tolerance=st.floats(0.005, 0.1),
    share=st.floats(0.1, 1),
    retared=st.booleans(),
)
def test_it_finds_the_cup_that_uses_up_just_that_share(ratio, tolerance, share, retared):
    variance_g2 = reading_variance_g2(0.1)
    total_g = smallest_cup_g(ratio, tolerance, variance_g2, share, retared)
    part_a_g = total_g / (1 + ratio)
    pours = [Pour("a", part_a_g, True), Pour("b", part_a_g * ratio, retared)]
    expanded = expanded_uncertainty(pours, ratio, variance_g2)
    assert expanded == pytest.approx(share * tolerance, rel=1e-9)


@given(error=st.floats(-0.2, 0.2), tolerance=st.floats(0.001, 0.1), expanded=st.floats(0, 0.1))
def test_it_judges_both_directions_alike_and_never_passes_what_is_out(error, tolerance, expanded):
    word = verdict(error, tolerance, expanded)
    assert word == verdict(-error, tolerance, expanded)
    inside = abs(error) <= tolerance + 1e-12
    assert (word in (Verdict.IN, Verdict.IN_UNPROVEN)) == inside


def test_it_adds_up_one_component_only():
    pours = [Pour("a", 60.0, True), Pour("b", 18.0), Pour("a", 1.5)]
    assert (net_of(pours, "a"), net_of(pours, "b"), net_of(pours, "x")) == (61.5, 18.0, 0.0)
