"""Orders of cups with a paste in part A, and of cups too small for a scale (T13)."""

from dataclasses import replace

import pytest

from companion.trade.cards import Additive, CupType, ScaleCard, SystemCard
from companion.trade.errors import OutOfRange
from companion.trade.order import Choices, Order, check_order
from companion.trade.order_problem import OrderProblem
from companion.trade.paste_order import planned_paste_g
from companion.trade.ratio import targets

COAT = SystemCard("SRF-A+SRF-B", 1, "SRF-A", "SRF-B", "COAT", 40, 2, 150)
SLOW = SystemCard("RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150)
FINE, COARSE = ScaleCard("S1", 1, "0.1", 3000), ScaleCard("S2", 1, "1", 5000)
SHOP = Choices(
    systems={card.name: card for card in (COAT, SLOW)},
    scales=[FINE, COARSE],
    cup_types={"C140": CupType("C140", 1, 8.4, 140, "PP")},
    jobs=frozenset(),
    additives={"PIG-W": Additive("PIG-W", 1, "white pigment paste", 5)},
)
TINTED = Order(COAT.name, "137", "1", additive="PIG-W", additive_pct="5")


def test_it_plans_a_paste_up_to_its_cap():
    checked = check_order(replace(TINTED, additive_pct=" 5,0 "), SHOP)
    assert checked.problems == ()
    assert (checked.total, checked.additive_pct) == ("137", "5.0")
    planned = targets(137, COAT.ratio)
    assert round(planned_paste_g(planned, checked.additive_pct), 1) == 4.9
    assert round(planned.part_b_g, 1) == 39.1


@pytest.mark.parametrize("share", ["", "0", "x"])
def test_a_share_that_is_no_figure_plans_no_paste(share):
    assert planned_paste_g(targets(137, 0.4), share) is None


@pytest.mark.parametrize(
    ("changed", "problem"),
    [
        (
            {"additive_pct": "8"},
            OrderProblem("additive_pct", "over_cap", "8", "5", "PIG-W", "4.9", "97.9"),
        ),
        (
            {"additive_pct": "8", "total": ""},
            OrderProblem("additive_pct", "over_cap", "8", "5", "PIG-W"),
        ),
        ({"additive_pct": ""}, OrderProblem("additive_pct", "empty", "")),
        ({"additive_pct": "-1"}, OrderProblem("additive_pct", "negative", "-1")),
        ({"additive_pct": "0"}, OrderProblem("additive_pct", "zero", "0")),
        ({"additive_pct": "1.2345678"}, OrderProblem("additive_pct", "long", "1.2345678")),
        ({"additive": ""}, OrderProblem("additive", "no_paste", "5")),
        ({"additive": "PIG-X"}, OrderProblem("additive", "unknown", "PIG-X")),
        (
            {"total": "145"},
            OrderProblem("total", "over_largest_with_paste", "145", "150", COAT.name, "5.2"),
        ),
        (
            {"cup_type": "C140"},
            OrderProblem("total", "over_volume_with_paste", "137", "140", "C140", "4.9"),
        ),
    ],
)
def test_it_refuses_a_paste_by_field_value_and_limit(changed, problem):
    assert problem in check_order(replace(TINTED, **changed), SHOP).problems


def test_it_judges_the_scale_by_both_parts_and_not_by_the_paste():
    asked = replace(TINTED, total="16")
    assert (
        check_order(asked, SHOP).problems
        == check_order(replace(asked, additive="", additive_pct=""), SHOP).problems
    )


@pytest.mark.parametrize(
    ("scale", "total", "limit"), [(COARSE, "20", "208.6"), (FINE, "20", "20.9")]
)
def test_it_refuses_cups_that_rounding_alone_can_spoil(scale, total, limit):
    checked = check_order(Order(SLOW.name, total, "1"), replace(SHOP, scales=[scale]))
    wanted = OrderProblem("total", "below_smallest", total, limit, scale.code)
    assert checked.problems == (wanted,)


def test_it_offers_30_g_on_the_fine_scale_which_proves_them_in_part():
    checked = check_order(Order(SLOW.name, "30", "1"), SHOP)
    assert checked.problems == ()
    assert checked.proves_in_part.scale is FINE
    assert checked.proves_in_part.warn_below_g == 62.6
    masses = targets(30, SLOW.ratio)
    assert [round(mass, 1) for mass in (masses.part_a_g, masses.part_b_g)] == [23.1, 6.9]


WEAK = ScaleCard("S3", 1, "0.01", 120)
HEAVY = {"C300": CupType("C300", 1, 20, 300, "PP"), "C50": CupType("C50", 1, 5, 300, "PP")}


@pytest.mark.parametrize(
    ("changed", "scales", "problem"),
    [
        # 120 g of capacity, less the cup, and less the paste where there is one.
        ({"total": "100"}, [WEAK], None),
        ({"total": "100.1"}, [WEAK], OrderProblem("total", "over_scale", "100.1", "100", "S3")),
        ({"total": "115", "cup_type": "C50"}, [WEAK], None),
        ({"total": "110", "cup_mass": "9.5"}, [WEAK], None),
        (
            {"total": "110", "cup_mass": "10.1"},
            [WEAK],
            OrderProblem("total", "over_scale", "110", "109.9", "S3"),
        ),
        # The coarse scale carries it and cannot judge it: the one that is too weak is named.
        (
            {"total": "110"},
            [WEAK, COARSE],
            OrderProblem("total", "over_scale", "110", "100", "S3"),
        ),
        ({"total": "110"}, [WEAK, FINE], None),
        ({"total": "1"}, [WEAK], OrderProblem("total", "below_smallest", "1", "2.1", "S3")),
    ],
)
def test_the_scale_carries_the_empty_cup_too(changed, scales, problem):
    shop = replace(SHOP, scales=scales, cup_types=HEAVY)
    checked = check_order(replace(Order(SLOW.name, "", "1"), **changed), shop)
    assert checked.problems == ((problem,) if problem else ())


def test_the_scale_carries_the_paste_too():
    scale = replace(WEAK, capacity_g=140)
    shop = replace(SHOP, scales=[scale], cup_types={})
    (problem,) = check_order(TINTED, shop).problems
    # 140 g, less 4.9 g of paste in 137 g.
    assert (problem.problem, problem.limit, problem.owner) == ("over_scale", "135.1", "S3")
    assert check_order(replace(TINTED, additive="", additive_pct=""), shop).problems == ()


@pytest.mark.parametrize("step", ["ply\u202e4", "ply\x7f", "ply\u20284"])
def test_a_step_that_cannot_be_printed_is_refused(step):
    checked = check_order(Order(SLOW.name, "30", "1", step=step), SHOP)
    assert checked.problems == (OrderProblem("step", "control", step),)


@pytest.mark.parametrize("code", ["", "a", "b", "cup"])
def test_no_additive_has_the_name_of_a_part(code):
    with pytest.raises(OutOfRange) as refused:
        Additive(code, 1, "white pigment paste", 5)
    assert (refused.value.field, refused.value.value) == ("code", code)
