"""Figures the office plans with, air and warmth: every check value, and what always holds."""

import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.climate import dew_point_c, largest_humidity_pct, margin_k
from companion.trade.cloth import Piece, cut, least_length_m
from companion.trade.laminate import (
    Ply,
    fibre_mass_fraction_of_volume,
    fibre_volume_fraction,
    stack_fibre_mass_fraction,
    thickness_mm,
)
from companion.trade.stoichiometry import DEPARTURE_TO_ASK, departure, stoichiometric_pbw
from companion.trade.warmth import TimePoint, largest_cup_g, shortened_min, time_min, window_min
from tests.cases import OFFICE, load_cases, mismatch, outcome

CASES = [case for name in [*OFFICE, "climate", "warmth"] for case in load_cases(name)]
contents = st.floats(0.05, 0.95)
densities = st.floats(0.8, 3.0)
weights = st.floats(20, 2000)
plies = st.builds(Ply, weights, contents, densities, st.integers(1, 5))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_it_agrees_with_the_check_values(case):
    assert mismatch(case, outcome(case)) == ""


@given(content=contents, fibre=densities, resin=densities, weight=weights)
def test_content_by_volume_and_by_mass_lead_to_each_other(content, fibre, resin, weight):
    by_volume = fibre_volume_fraction([Ply(weight, content, fibre)], resin)
    back = fibre_mass_fraction_of_volume(by_volume, fibre, resin)
    assert back == pytest.approx(content, rel=1e-9)


@given(stack=st.lists(plies, min_size=1, max_size=8), resin=densities)
def test_the_order_of_plies_changes_nothing(stack, resin):
    turned = stack[::-1]
    assert thickness_mm(stack, resin) == pytest.approx(thickness_mm(turned, resin), rel=1e-12)
    assert min(p.fibre_mass_fraction for p in stack) <= stack_fibre_mass_fraction(stack) + 1e-12
    assert stack_fibre_mass_fraction(stack) <= max(p.fibre_mass_fraction for p in stack) + 1e-12


@given(air=st.floats(1, 50), humidity=st.floats(5, 100))
def test_a_dew_point_is_never_above_the_air(air, humidity):
    assert dew_point_c(air, humidity) <= air + 1e-9


@given(mould=st.floats(5, 40), air=st.floats(5, 40))
def test_the_largest_humidity_leaves_just_the_margin(mould, air):
    humidity = largest_humidity_pct(mould, air)
    if 1 < humidity < 100:
        assert margin_k(mould, air, humidity) == pytest.approx(3.0, abs=1e-6)


def test_a_cheap_hygrometer_costs_a_degree_of_the_margin():
    # CU-17: limits of 0.5 degC and 3 % taken as rectangular, through the library GTC.
    air = GTC.ureal(20, 0.5 / 3**0.5)
    humidity = GTC.ureal(60, 3 / 3**0.5)
    g = GTC.log(humidity / 100) + 17.62 * air / (243.12 + air)
    dew = 243.12 * g / (17.62 - g)
    assert dew_point_c(20, 60) == pytest.approx(dew.x, abs=1e-9)
    assert 2 * dew.u == pytest.approx(1.03151396316, rel=1e-4)


@given(
    minutes=st.lists(st.floats(5, 300), min_size=1, max_size=4, unique=True),
    one=st.floats(0, 50),
    two=st.floats(0, 50),
)
def test_more_warmth_never_gives_more_time(minutes, one, two):
    # Times fall as the sheet's temperatures rise.
    sheet = [TimePoint(m, 10.0 + 8 * n) for n, m in enumerate(sorted(minutes, reverse=True))]
    cold, warm = sorted((one, two))
    assert shortened_min(sheet, warm) <= shortened_min(sheet, cold) <= max(minutes) + 1e-9
    assert largest_cup_g(150, 25, warm) <= largest_cup_g(150, 25, cold) <= 150
    for point in sheet:
        assert time_min(sheet, point.temperature_c) == pytest.approx(point.minutes, rel=1e-9)


@given(opens=st.floats(10, 600), longer=st.floats(10, 600), shop=st.floats(0, 45))
def test_a_window_is_never_wider_than_the_sheets(opens, longer, shop):
    low, high = window_min(opens, opens + longer, 20, shop)
    assert low >= opens and high <= opens + longer


@given(
    sizes=st.lists(st.tuples(st.floats(0.05, 3), st.floats(0.05, 1.27)), min_size=1, max_size=12)
)
def test_pieces_lie_on_the_roll_beside_each_other(sizes):
    pieces = [Piece(str(n), *size) for n, size in enumerate(sizes)]
    found = cut(pieces, 1.27)
    assert sorted(one.piece.name for one in found.placed) == sorted(one.name for one in pieces)
    assert found.length_m >= least_length_m(pieces, 1.27) - 1e-9 == found.at_least_m - 1e-9
    # Next-fit's guarantee (theorem): twice the area over the width, and the longest piece.
    bound = 2 * sum(piece.area_m2 for piece in pieces) / 1.27 + max(p.length_m for p in pieces)
    assert found.length_m <= bound + 1e-9
    for n, one in enumerate(found.placed):
        assert one.across_m + one.piece.width_m <= 1.27 + 1e-6
        for other in found.placed[:n]:
            beside = (
                one.across_m >= other.across_m + other.piece.width_m - 1e-9
                or other.across_m >= one.across_m + one.piece.width_m - 1e-9
            )
            apart = (
                one.along_m >= other.along_m + other.piece.length_m - 1e-9
                or other.along_m >= one.along_m + one.piece.length_m - 1e-9
            )
            assert beside or apart


def test_a_card_far_from_its_chemistry_is_asked_about():
    computed = stoichiometric_pbw(20.6, 200)
    assert abs(departure(10.3, computed)) < 1e-12
    assert departure(12.0, computed) > DEPARTURE_TO_ASK > departure(11.5, computed)
