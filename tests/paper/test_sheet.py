"""The sheet: where labels lie, and what is refused."""

from dataclasses import replace
from itertools import pairwise

import pytest

from companion.errors import OutOfRange
from companion.paper.asked import BLANK, CUPS, Asked, check_asked
from companion.paper.labels import BlankLabel, CupLabel, Words, cup_label
from companion.paper.layout import lay_out, smallest
from companion.paper.marks import Qr, Rule, Text
from companion.paper.sheet import (
    A4_3X8,
    ROLL_62X29,
    UNPRINTED_MM,
    Sheet,
    centred,
    check,
    places,
    read,
    require,
    written,
)
from tests.paper.samples import SYSTEM, can, cups


def test_it_counts_along_the_rows_and_goes_on_to_the_next_page() -> None:
    found = places(replace(A4_3X8, start=23), 3)
    assert [(one.page, one.x_mm, one.y_mm) for one in found] == [
        (0, 70.0, 259.5),
        (0, 140.0, 259.5),
        (1, 0.0, 0.5),
    ]


def test_it_adds_gaps_and_margins() -> None:
    sheet = Sheet(4, 2, 90, 60, left_mm=10, top_mm=15, gap_x_mm=5, gap_y_mm=3)
    assert [(one.x_mm, one.y_mm) for one in places(sheet, 4)] == [
        (10, 15),
        (105, 15),
        (10, 78),
        (105, 78),
    ]
    assert centred(sheet) == (12.5, 24.0)


def test_it_reads_what_it_writes() -> None:
    for sheet in (A4_3X8, ROLL_62X29):
        assert read(written(sheet)) == (sheet, ())


WRONG = [
    ({"rows": "9"}, "rows", "range", "1", "8"),
    ({"rows": "0"}, "rows", "range", "1", "40"),
    ({"rows": "2,5"}, "rows", "whole", "", ""),
    ({"rows": "many"}, "rows", "figure", "", ""),
    ({"columns": "4"}, "columns", "range", "1", "3"),
    ({"columns": "21"}, "columns", "range", "1", "20"),
    ({"columns": ""}, "columns", "figure", "", ""),
    ({"label_width_mm": "70.1"}, "label_width_mm", "range", "61.8", "70"),
    ({"label_width_mm": "40"}, "label_width_mm", "range", "61.8", "70"),
    ({"label_height_mm": "38"}, "label_height_mm", "range", "33.6", "37"),
    ({"label_height_mm": "20"}, "label_height_mm", "range", "32.6", "37"),
    ({"label_height_mm": "-37"}, "label_height_mm", "figure", "", ""),
    ({"page_width_mm": "1,000.5"}, "page_width_mm", "figure", "", ""),
    ({"page_width_mm": "19"}, "page_width_mm", "range", "20", "450"),
    ({"page_height_mm": "30", "rows": "1"}, "page_height_mm", "page", "34.1", "450"),
    ({"left_mm": "441"}, "left_mm", "range", "0", "440"),
    ({"left_mm": "30"}, "columns", "range", "1", "2"),
    ({"top_mm": "2"}, "label_height_mm", "range", "33.6", "36.8"),
    ({"gap_x_mm": "5"}, "label_width_mm", "range", "61.8", "66.6"),
    ({"gap_y_mm": "1 cm"}, "gap_y_mm", "figure", "", ""),
    ({"start": "25"}, "start", "range", "1", "24"),
    ({"start": "0"}, "start", "range", "1", "24"),
    ({"start": "1.5"}, "start", "whole", "", ""),
]


@pytest.mark.parametrize(("changes", "field", "problem", "low", "high"), WRONG)
def test_it_names_the_field_that_is_wrong_and_what_is_allowed(
    changes: dict[str, str], field: str, problem: str, low: str, high: str
) -> None:
    (code,) = [label.code for label in cups(1)]
    asked = Asked(CUPS, (code,), "", {**written(A4_3X8), **changes})
    (found, *others) = check_asked(asked, {code}).problems
    assert (found.field, found.problem, found.low, found.high) == (field, problem, low, high)
    assert others == []


@pytest.mark.parametrize("count", ["", "0", "241", "2.5", "-3", "ten"])
def test_it_refuses_a_count_no_sheet_is_printed_for(count: str) -> None:
    (found,) = check_asked(Asked(BLANK, (), count, written(A4_3X8)), ()).problems
    assert (found.field, found.low, found.high) == ("count", "1", "240")


@pytest.mark.parametrize(
    ("codes", "problem"),
    [((), "none"), (("7K2QMS",), "unknown"), (("7K2QMS",) * 241, "range")],
)
def test_it_refuses_codes_that_cannot_be_chosen(codes: tuple[str, ...], problem: str) -> None:
    (found,) = check_asked(Asked(CUPS, codes, "", written(A4_3X8)), ()).problems
    assert (found.field, found.problem) == ("codes", problem)


def test_it_raises_the_first_problem_with_its_evidence() -> None:
    with pytest.raises(OutOfRange) as caught:
        require(replace(A4_3X8, start=30), smallest(BlankLabel, A4_3X8))
    assert (caught.value.field, caught.value.value) == ("start", "30")
    assert caught.value.allowed == "1 to 24"


@pytest.mark.parametrize("sheet", [A4_3X8, ROLL_62X29, Sheet(5, 2, 99, 55, top_mm=5, left_mm=5)])
@pytest.mark.parametrize("label", [cups(1)[0], can(), can(""), BlankLabel("7K2QMS")], ids=repr)
def test_everything_lies_within_its_label_and_its_reach(sheet: Sheet, label) -> None:
    assert check(sheet, smallest(type(label), sheet)) == ()
    marks = lay_out(label, sheet)
    edges = sheet.edges
    patterns = [mark for mark in marks if isinstance(mark, Qr)]
    for pattern in patterns:
        left_mm, top_mm, side_mm = pattern.inner_mm
        assert 20 - 1e-9 <= side_mm <= 25 + 1e-9
        assert pattern.x_mm >= 0 and pattern.x_mm + pattern.side_mm <= sheet.label_width_mm
        assert left_mm >= edges.x_mm - 1e-9 and top_mm >= edges.y_mm - 1e-9
    for text in (mark for mark in marks if isinstance(mark, Text)):
        assert text.x_mm >= patterns[0].x_mm + patterns[0].side_mm - 1e-9
        right_mm = patterns[1].x_mm if len(patterns) > 1 else sheet.label_width_mm - edges.x_mm
        assert text.x_mm + text.width_mm <= right_mm + 1e-6
        assert edges.y_mm <= text.baseline_mm - text.size_mm * 0.73
        assert text.baseline_mm <= sheet.label_height_mm - edges.y_mm


def test_a_wide_label_carries_its_code_twice() -> None:
    wide = lay_out(cups(1)[0], Sheet(5, 2, 99, 55, top_mm=5, left_mm=5))
    first, second = (mark for mark in wide if isinstance(mark, Qr))
    assert first.content == second.content
    assert 99 - (second.x_mm + second.side_mm) == pytest.approx(first.x_mm)


def test_an_edge_to_edge_sheet_keeps_off_the_white_edge_of_a_printer() -> None:
    assert A4_3X8.edges.x_mm == UNPRINTED_MM
    assert A4_3X8.edges.y_mm == pytest.approx(UNPRINTED_MM - 0.5)
    assert ROLL_62X29.edges.x_mm == 1.0


def test_the_rows_to_be_read_from_afar_have_capitals_of_two_millimetres() -> None:
    """Source: 2 mm at half a metre is 14 minutes of arc; 5 is the limit of normal sight."""
    for sheet in (A4_3X8, ROLL_62X29):
        texts = {m.text: m for m in lay_out(cups(1)[0], sheet) if isinstance(m, Text)}
        code = cups(1)[0].code
        assert texts[code].size_mm * 0.729 >= 3.6
        for text in ("SLOW", "A 112.6 g", "B = 0.300 × A poured"):
            assert texts[text].size_mm * 0.729 >= 2.0, text


@pytest.mark.parametrize("part", ["Hatch cover 14", "A very long name of a part that never ends"])
@pytest.mark.parametrize("sheet", [A4_3X8, ROLL_62X29, Sheet(5, 2, 99, 55, top_mm=5, left_mm=5)])
def test_a_long_part_is_cut_and_the_target_and_step_never(sheet: Sheet, part: str) -> None:
    label = replace(cups(1, part)[0], hardener="EXTRA SLOW FOR SUMMER")
    texts = [mark.text for mark in lay_out(label, sheet) if isinstance(mark, Text)]
    assert "A 112.6 g" in texts and "ply 1" in texts
    assert isinstance(label, CupLabel)


@pytest.mark.parametrize("sheet", [A4_3X8, ROLL_62X29])
def test_every_line_takes_a_figure_also_in_a_wordy_language(sheet: Sheet) -> None:
    wordy = Words(
        ratio="B = %(ratio)s × A eingegossen",
        cup="Becher",
        stop="Stopp",
        initials="Kürzel",
        use_by="verwenden bis",
    )
    for words, least_mm in ((Words(), 9.0), (wordy, 7.4)):
        label = cup_label("7K2QMS", SYSTEM, "146.4", ("Hatch cover 14", "ply 1"), words)
        lines = [mark for mark in lay_out(label, sheet) if isinstance(mark, Rule)]
        assert len(lines) == 6
        assert min(line.length_mm for line in lines) >= least_mm
        heights = sorted({line.y_mm for line in lines})
        assert min(b - a for a, b in pairwise(heights)) >= 3.5
