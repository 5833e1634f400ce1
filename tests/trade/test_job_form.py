"""The form of a job: what is read from it, what is refused by which field, rows that move."""

from dataclasses import replace

import pytest

from companion.trade.cards import Job
from companion.trade.job_check import check_job
from companion.trade.job_form import TypedJob, TypedPly, typed_of, with_rows_changed
from companion.trade.job_order import layer_by_layer
from companion.trade.plan import plan
from tests.trade.hatch import CHOICES, FINE, HATCH, SYSTEMS, TYPED


def test_the_typed_hatch_cover_is_the_job_of_the_file():
    checked = check_job(TYPED, CHOICES, serial="HC-014")
    assert checked.problems == () and checked.order is not None
    order = checked.order
    # The figures of T1: commas are read, a share is the very number of the file.
    assert (order.area_m2, order.resin_mass_fraction) == (0.34, 0.48)
    assert order.plies[1].angle_deg == -45 and order.plies[1].areal_weight_g_m2 == 400
    made = plan(layer_by_layer(order), SYSTEMS, FINE)
    assert made.needed_g == plan(HATCH, SYSTEMS, FINE).needed_g
    assert [cup.plies for cup in made.cups[1:]] == [(0, 1), (1, 2), (2, 3)]


def test_a_job_on_record_comes_back_from_its_form_as_it_was():
    order = check_job(TYPED, CHOICES, serial="HC-014").order
    typed = typed_of(Job("14", 2, "hatch cover", order, "LAKE"))
    assert check_job(typed, CHOICES, serial="HC-014").order == order
    assert typed.resin_pct == "48" and typed.peel_ply_g_m2 == "40"


#: (change of the form, field, problem): common practice, no source; ranges as the form tells them.
WRONG = [
    ({"code": ""}, "code", "code"),
    ({"code": "14@2"}, "code", "code"),
    ({"code": "a/b"}, "code", "code"),
    ({"code": "x" * 21}, "code", "code"),
    ({"code": "15"}, "code", "taken"),
    ({"part": " "}, "part", "text"),
    ({"part": "x\u202ey"}, "part", "text"),
    ({"customer": "nobody"}, "customer", "unknown"),
    ({"area_m2": ""}, "area_m2", "empty"),
    ({"area_m2": "-0.34"}, "area_m2", "range"),
    ({"area_m2": "0"}, "area_m2", "range"),
    ({"area_m2": "1.000,5"}, "area_m2", "separators"),
    ({"area_m2": "NaN"}, "area_m2", "character"),
    ({"resin_pct": "0"}, "resin_pct", "range"),
    ({"resin_pct": "0.48"}, "resin_pct", "range"),
    ({"resin_pct": "100"}, "resin_pct", "range"),
    ({"system": ""}, "system", "empty_choice"),
    ({"system": "elsewhere"}, "system", "unknown"),
    ({"coat_system": "elsewhere"}, "coat_system", "unknown"),
    ({"coat_g_m2": ""}, "coat_g_m2", "empty"),
    ({"coat_system": "", "coat_tools_g": "", "coat_g_m2": "350"}, "coat_g_m2", "no_coat"),
    ({"additive": "PIG-W"}, "additive_pct", "empty"),
    ({"additive": "PIG-W", "additive_pct": "8"}, "additive_pct", "over_cap"),
    ({"additive_pct": "3"}, "additive_pct", "no_additive"),
    ({"release_agent": "elsewhere"}, "release_agent", "unknown"),
    ({"peel_ply_g_m2": "-1"}, "peel_ply_g_m2", "range"),
    ({"loss_per_cup_g": "150"}, "loss_per_cup_g", "over_largest"),
    ({"fibre_density_g_cm3": "1800"}, "fibre_density_g_cm3", "range"),
    ({"cups": "0"}, "cups", "range"),
    ({"cups": "2.5"}, "cups", "whole"),
    ({"area_m2": "300"}, "cups", "too_many"),
    ({"length_m": "0"}, "length_m", "range"),
    ({"cut_margin_m": "30"}, "cut_margin_m", "range"),
    ({"plies": ()}, "plies", "plies"),
    ({"plies": (TypedPly("C200"),) * 10_000}, "plies", "plies"),
    ({"plies": (TypedPly("C200", layers="150"),) * 2}, "plies", "plies"),
    ({"plies": (TypedPly("C200"), TypedPly("C999"))}, "plies-2-cloth", "unknown"),
    ({"plies": (TypedPly(""),)}, "plies-1-cloth", "empty_choice"),
    ({"plies": (TypedPly("C200", layers="10000"),)}, "plies-1-layers", "range"),
    ({"plies": (TypedPly("C200", layers="0"),)}, "plies-1-layers", "range"),
    ({"plies": (TypedPly("C200", angle_deg="91"),)}, "plies-1-angle_deg", "range"),
    ({"plies": (TypedPly("C200", resin_pct="1"),)}, "plies-1-resin_pct", "range"),
    ({"plies": (TypedPly("C200", width_m="x"),)}, "plies-1-width_m", "character"),
]


@pytest.mark.parametrize("change, field, problem", WRONG)
def test_what_cannot_be_is_refused_by_its_field(change, field, problem):
    checked = check_job(replace(TYPED, **change), CHOICES)
    assert checked.order is None
    found = {(one.field, one.problem) for one in checked.problems}
    assert (field, problem) in found, found


def test_every_problem_is_told_at_once():
    checked = check_job(TypedJob(), CHOICES)
    fields = [one.field for one in checked.problems]
    assert fields == ["code", "part", "area_m2", "resin_pct", "system", "plies-1-cloth"]


def test_cups_no_scale_can_judge_are_the_plan_s_to_refuse():
    assert check_job(replace(TYPED, cups="2"), CHOICES).order is not None


def test_rows_are_added_removed_and_moved_and_nothing_typed_is_lost():
    rows = tuple(TypedPly(name, layers="typed") for name in "abc")
    typed = replace(TYPED, plies=rows, area_m2="still wrong")

    def order(change: str, number: int) -> str:
        changed = with_rows_changed(typed, change, number)
        assert changed.area_m2 == "still wrong"
        return "".join(row.cloth or "+" for row in changed.plies)

    assert order("add", 0) == "abc+"
    assert order("remove", 2) == "ac"
    assert order("up", 3) == "acb" and order("down", 1) == "bac"
    for change, number in (("up", 1), ("down", 3), ("remove", 0), ("remove", 4), ("turn", 9)):
        assert order(change, number) == "abc"
