"""Forms of cards: what is typed becomes a card, and every bad input a problem with its limits."""

from dataclasses import replace

import pytest

from companion.trade import card_cautions
from companion.trade.card_forms import FORMS, Known, read, write
from companion.trade.cards import (
    Additive,
    Cloth,
    Container,
    CupType,
    Cure,
    Lot,
    PotLife,
    ReleaseAgent,
    ScaleCard,
    SystemCard,
    TackWindow,
    VolumeRatio,
)

SYSTEM = {
    "resin": "RES-L",
    "hardener": "HRD-S",
    "hardener_word": "SLOW",
    "part_b_pbw": "30",
    "tolerance_pct": "2",
    "largest_cup_g": "150",
    "source_part_b_pbw": "data sheet, table 1",
}
FULL = SystemCard(
    "RES-L+HRD-S",
    3,
    "RES-L",
    "HRD-S",
    "SLOW",
    30,
    2,
    150,
    filler_fraction_a=1 / 3,
    pot_life=PotLife(45, 100, 25),
    mix_min=3,
    mixed_density_g_cm3=1.1,
    sources={"part_b_pbw": "data sheet", "more_pot_life": "another sheet"},
    more_pot_life=(PotLife(20, 100, 35), PotLife(80, 100, 15.5)),
    tack=TackWindow(20, 250, 20),
    cure=Cure(1440, None, 20),
    minimum_c=15,
    eew_g_eq=190,
    ahew_g_eq=57,
)
CARDS = {
    "system": FULL,
    "cloth": Cloth("C200", 1, "carbon", 200, 1.8, 1.27, {"areal_weight_g_m2": "label"}),
    "release_agent": ReleaseAgent("WAX", 2, 3, 30, 60, 10080, {"coats": "can"}),
    "additive": Additive("PIG-W", 1, "white paste", 5, {}),
    "cup_type": CupType("C250", 1, 8.4, 250, "PP"),
    "lot": Lot("HL 2291/A", 1, "HRD-S", "2026-06-01", True, "cloudy"),
    "container": Container("HRD2SM", 1, "HRD-S", "HL-2291", "2026-01-01", 1000, 85.5),
    "scale": ScaleCard("S1", 4, "0.10", 3000, 120, 0.05),
}
LOTS = Known({"HL-2291": Lot("HL-2291", 1, "HRD-S"), "RL-1180": Lot("RL-1180", 1, "RES-L")})


def problems(kind, typed, before=None):
    """Problems by field, as (problem, value, low, high)."""
    found = read(kind, typed, before, LOTS)
    assert (found.card is None) == bool(found.problems)
    return {one.field: (one.problem, one.value, one.low, one.high) for one in found.problems}


@pytest.mark.parametrize("kind", FORMS)
def test_a_form_nobody_changed_gives_the_same_card(kind):
    card = CARDS[kind]
    written = write(kind, card)
    assert set(written) <= set(FORMS[kind].fields)
    assert read(kind, written, card, LOTS).card == card
    # The same with the comma of another language.
    numbers = set(FORMS[kind].spans)
    commas = {name: v.replace(".", ",") if name in numbers else v for name, v in written.items()}
    assert read(kind, commas, card, LOTS).card == card


def test_a_new_system_is_called_by_its_materials_and_keeps_what_is_not_on_the_sheet_empty():
    card = read("system", SYSTEM, None, LOTS).card
    assert (card.name, card.ratio, card.tolerance) == ("RES-L+HRD-S@0", 0.3, 0.02)
    assert (card.pot_life, card.tack, card.cure, card.by_volume, card.minimum_c) == (None,) * 5


def test_a_ratio_by_volume_becomes_one_by_mass():
    # ST-17: 2:1 by volume is 100:41.8 by mass, not 100:50.
    typed = {**SYSTEM, "part_b_pbw": "", "part_b_pbv": "50", "density_a": "1,16"}
    card = read("system", {**typed, "density_b": "0,97"}, None, LOTS).card
    assert card.part_b_pbw == pytest.approx(41.81, abs=0.005)
    assert card.by_volume == VolumeRatio(50, 1.16, 0.97)
    assert write("system", card)["part_b_pbw"] == ""
    assert problems("system", typed) == {"density_b": ("density_needed", "", "", "")}


BAD = [
    ("system", {}, {"resin": ("empty", "", "", "")}),
    ("system", {"part_b_pbw": ""}, {"part_b_pbw": ("ratio_needed", "", "", "")}),
    ("system", {"part_b_pbw": "0"}, {"part_b_pbw": ("range", "0", "0.1", "1000")}),
    ("system", {"part_b_pbw": "thirty"}, {"part_b_pbw": ("character", "thirty", "0.1", "1000")}),
    ("system", {"part_b_pbw": "1.0,5"}, {"part_b_pbw": ("separators", "1.0,5", "0.1", "1000")}),
    ("system", {"part_b_pbw": "-30"}, {"part_b_pbw": ("negative", "-30", "0.1", "1000")}),
    ("system", {"tolerance_pct": "100"}, {"tolerance_pct": ("range", "100", "0.1", "50")}),
    ("system", {"largest_cup_g": ""}, {"largest_cup_g": ("empty", "", "", "")}),
    ("system", {"filler_pct": "96"}, {"filler_pct": ("range", "96", "0", "95")}),
    ("system", {"source_part_b_pbw": " "}, {"source_part_b_pbw": ("empty", "", "", "")}),
    ("system", {"code": "RES@3"}, {"code": ("revision_mark", "RES@3", "", "")}),
    ("system", {"code": "x" * 41}, {"code": ("too_long", "x" * 41, "", "40")}),
    ("system", {"hardener_word": "a\tb"}, {"hardener_word": ("control", "a\tb", "", "")}),
    ("system", {"hardener": "\u202eS"}, {"hardener": ("control", "\u202eS", "", "")}),
    ("system", {"density_a": "1.1"}, {"part_b_pbv": ("belongs_together", "", "", "")}),
    (
        "system",
        {"part_b_pbv": "36"},
        {f"density_{one}": ("density_needed", "", "", "") for one in "ab"},
    ),
    ("system", {"pot_1_min": "45", "pot_1_c": "25"}, {"pot_1_mass_g": ("belongs_together",)}),
    ("system", {"pot_2_min": "20", "pot_2_c": "35"}, {"pot_1_min": ("first_point_needed",)}),
    (
        "system",
        {"pot_1_min": "45", "pot_1_mass_g": "100", "pot_1_c": "25"}
        | {"pot_2_min": "50", "pot_2_c": "35"},
        {"pot_2_min": ("warmer_longer", "50", "45", "25")},
    ),
    (
        "system",
        {"pot_1_min": "45", "pot_1_mass_g": "100", "pot_1_c": "25"}
        | {"pot_2_min": "20", "pot_2_c": "35", "pot_3_min": "30", "pot_3_c": "15"},
        {"pot_3_min": ("warmer_longer", "30", "45", "25")},
    ),
    (
        "system",
        {"pot_1_min": "45", "pot_1_mass_g": "100", "pot_1_c": "25"}
        | {"pot_2_min": "40", "pot_2_c": "25,0"},
        {"pot_2_c": ("same_temperature", "25,0", "25", "")},
    ),
    (
        "system",
        {"pot_1_min": "45", "pot_1_mass_g": "100", "pot_1_c": "25"}
        | {"pot_2_min": "45", "pot_2_c": "15"},
        {"pot_2_min": ("warmer_longer", "45", "45", "25")},
    ),
    ("system", {"tack_opens_h": "2"}, {"tack_closes_h": ("belongs_together",), "tack_c": ()}),
    (
        "system",
        {"tack_opens_h": "4", "tack_closes_h": "4", "tack_c": "20"},
        {"tack_closes_h": ("not_after", "4", "4", "")},
    ),
    ("system", {"full_h": "168"}, {"demould_h": ("belongs_together",)}),
    (
        "system",
        {"demould_h": "24", "full_h": "12", "cure_c": "20"},
        {"full_h": ("not_before", "12", "24", "")},
    ),
    ("cloth", {"code": "C200"}, {"fibre": ("empty",), "areal_weight_g_m2": ("empty",)}),
    ("release_agent", {"code": "WAX", "coats": "2,5"}, {"coats": ("whole", "2,5", "", "")}),
    (
        "release_agent",
        {"code": "WAX", "coats": "2", "last_min": "60", "too_old_h": "1"},
        {"too_old_h": ("not_after", "1", "1", "")},
    ),
    ("additive", {"code": "a", "description": "x", "cap_pct": "5"}, {"code": ("reserved",)}),
    ("additive", {"code": "PIG", "description": "x", "cap_pct": "0"}, {"cap_pct": ("range",)}),
    ("cup_type", {"code": "C", "mass_g": "8", "volume_ml": "250"}, {"material": ("empty",)}),
    ("lot", {"code": "L", "material": "R", "expires_on": "31.12."}, {"expires_on": ("day",)}),
    ("lot", {"code": "L", "material": "R", "expires_on": "2026-02-30"}, {"expires_on": ("day",)}),
    (
        "lot",
        {"code": "L", "material": "R", "quarantined": "yes"},
        {"quarantine_reason": ("empty",)},
    ),
    (
        "lot",
        {"code": "L", "material": "R", "quarantine_reason": "why"},
        {"quarantine_reason": ("no_quarantine", "why", "", "")},
    ),
    ("container", {"lot": "OTHER"}, {"lot": ("unknown", "OTHER", "", ""), "material": ("empty",)}),
    ("container", {}, {"material": ("empty",)}),
    (
        "container",
        {"lot": "HL-2291", "material": "RES-L"},
        {"material": ("of_lot", "RES-L", "HRD-S", "HL-2291")},
    ),
    (
        "container",
        {"lot": "HL-2291", "content_g": "0"},
        {"content_g": ("range", "0", "1", "300000")},
    ),
    ("scale", {"code": "S", "readability": "0", "capacity_g": "10"}, {"readability": ("range",)}),
    ("scale", {"code": "S", "readability": "1", "capacity_g": "1"}, {"capacity_g": ("not_after",)}),
    (
        "scale",
        {"code": "S", "readability": "1", "capacity_g": "10", "reading_1_g": "5"},
        {f"reading_{n}_g": ("belongs_together",) for n in (2, 3, 4, 5)},
    ),
]


@pytest.mark.parametrize(("kind", "typed", "expected"), BAD)
def test_bad_input_is_named_with_its_value_and_limits(kind, typed, expected):
    sound = SYSTEM if kind == "system" and typed else {}
    found = problems(kind, {**sound, **typed})
    for name, wanted in expected.items():
        assert found[name][: len(wanted)] == wanted
    if typed and kind == "system":
        assert set(found) == set(expected)


def test_problems_stand_in_the_order_of_the_form():
    names = [one.field for one in read("system", {}, None, LOTS).problems]
    order = [name for name in FORMS["system"].fields if name in names]
    assert names == order
    assert len(names) == 7


def test_a_can_takes_the_material_of_its_lot_and_keeps_its_code():
    assert read("container", {"lot": "RL-1180"}, None, LOTS).card == Container(
        "", 0, "RES-L", "RL-1180"
    )
    before = CARDS["container"]
    typed = {**write("container", before), "empty_g": "90"}
    changed = read("container", typed, before, LOTS).card
    assert changed == replace(before, empty_g=90)


def test_five_readings_stand_before_a_figure_that_was_typed():
    typed = {"code": "S1", "readability": "0.1", "capacity_g": "3000", "repeatability_g": "9"}
    readings = dict(zip([f"reading_{n}_g" for n in range(1, 6)], "12345", strict=True))
    # 1 to 5: mean 3, squares 4+1+0+1+4 = 10, over 4 degrees of freedom.
    card = read("scale", {**typed, **readings}, None, LOTS).card
    assert card.repeatability_g == pytest.approx(2.5**0.5, abs=1e-6)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        # 100 x 57 / 190 = 30: the card's own ratio.
        ({}, []),
        # 15 % off is not beyond it, a little more is.
        ({"ahew_g_eq": 57 / 1.15}, []),
        ({"ahew_g_eq": 57 / 1.16}, ["other_than_chemistry"]),
        ({"ahew_g_eq": 57 / 0.84}, ["other_than_chemistry"]),
        ({"eew_g_eq": None}, []),
        # Mistake 1: one figure for both, though the densities differ.
        ({"by_volume": VolumeRatio(30, 1.16, 0.97)}, ["equal_figures"]),
        ({"by_volume": VolumeRatio(30, 1.16, 1.16)}, []),
        # 100:36 by volume is about 100:30 by mass.
        ({"by_volume": VolumeRatio(36, 1.16, 0.97)}, []),
        ({"by_volume": VolumeRatio(25, 1.16, 0.97)}, ["other_than_volumes"]),
    ],
)
def test_figures_that_seem_copied_wrongly_are_pointed_out(changes, expected):
    found = card_cautions.cautions(replace(FULL, **changes))
    assert [one.kind for one in found] == expected
