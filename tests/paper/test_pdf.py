"""Printed sheets: rasterised, read by two decoders, measured, and their words and fonts."""

import gc
import hashlib
import subprocess
import sys
import warnings
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from companion.errors import OutOfRange
from companion.paper.labels import BlankLabel, Words, cup_label
from companion.paper.marks import Qr, Text
from companion.paper.pdf import page_count, placed, render
from companion.paper.preview import preview
from companion.paper.sheet import A4_3X8, ROLL_62X29, Place, Sheet
from companion.trade.cards import SystemCard
from companion.trade.ratio import written_ratio
from tests.paper.raster import (
    MM_PER_PIXEL,
    black_box_mm,
    fonts,
    rasterise,
    read_zbar,
    read_zxing,
    words,
)
from tests.paper.samples import SYSTEM, blanks, can, cups, parts

TWO_WIDE = Sheet(5, 2, 99, 55, left_mm=6, top_mm=6, gap_y_mm=2)
#: Nearness asked of the print: a sheet is cut no truer.
WITHIN_MM = 0.3


@pytest.mark.parametrize(
    ("labels", "sheet", "base"),
    [
        (cups(24), A4_3X8, ""),
        (blanks(24), A4_3X8, ""),
        (cups(24), A4_3X8, "https://companion.local:8443"),
        (cups(10), TWO_WIDE, ""),
        (cups(2), ROLL_62X29, ""),
        (parts(24), A4_3X8, ""),
        (parts(10), TWO_WIDE, "https://companion.local:8443"),
    ],
    ids=["cups", "blank", "address", "two patterns", "roll", "parts", "parts by address"],
)
def test_every_label_is_read_where_it_should_be(labels, sheet, base, tmp_path: Path) -> None:
    pages = rasterise(render(labels, sheet, base), tmp_path)
    expected = [
        (one.place, mark)
        for one in placed(labels, sheet, base)
        for mark in one.marks
        if isinstance(mark, Qr)
    ]
    assert len(pages) == page_count(sheet, len(labels))
    wanted = sorted(mark.content for _, mark in expected)
    for one in placed(labels, sheet, base):
        # One label at a time, as a camera sees it: zbar passes over some patterns of a full page.
        label = _label(pages[one.place.page], one.place, sheet)
        assert read_zbar(label) == [mark.content for mark in one.marks if isinstance(mark, Qr)]
    found = [(number, one) for number, page in enumerate(pages) for one in read_zxing(page)]
    assert sorted(one.text for _, one in found) == wanted
    for place, mark in expected:
        left_mm, top_mm, side_mm = mark.inner_mm
        left_mm, top_mm = left_mm + place.x_mm, top_mm + place.y_mm
        corners = _corners(left_mm, top_mm, side_mm)
        nearest = min(
            _furthest(one.corners_mm, corners)
            for page, one in found
            if page == place.page and one.text == mark.content
        )
        assert nearest <= WITHIN_MM
        # Whatever a decoder makes of corners, the black itself is measured, too.
        around = (left_mm - 2, top_mm - 2, left_mm + side_mm + 2, top_mm + side_mm + 2)
        edges = black_box_mm(pages[place.page], around)
        true_edges = (left_mm, top_mm, left_mm + side_mm, top_mm + side_mm)
        assert max(abs(a - b) for a, b in zip(edges, true_edges, strict=True)) <= WITHIN_MM


def _label(page: Image.Image, place: Place, sheet: Sheet) -> Image.Image:
    box_mm = (place.x_mm, place.y_mm)
    box_mm += (place.x_mm + sheet.label_width_mm, place.y_mm + sheet.label_height_mm)
    return page.crop(tuple(round(edge / MM_PER_PIXEL) for edge in box_mm))


def _corners(left_mm: float, top_mm: float, side_mm: float) -> list[tuple[float, float]]:
    right_mm, bottom_mm = left_mm + side_mm, top_mm + side_mm
    return [(left_mm, top_mm), (right_mm, top_mm), (right_mm, bottom_mm), (left_mm, bottom_mm)]


def _furthest(found, true) -> float:
    pairs = zip(found, true, strict=True)
    return max(max(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in pairs)


def test_text_is_set_where_the_geometry_says(tmp_path: Path) -> None:
    (page,) = rasterise(render(blanks(1), A4_3X8), tmp_path)
    (one,) = placed(blanks(1), A4_3X8)
    (code,) = [mark for mark in one.marks if isinstance(mark, Text)]
    x_mm, y_mm = one.place.x_mm + code.x_mm, one.place.y_mm + code.baseline_mm
    box = (x_mm - 1, y_mm - 12, x_mm + code.width_mm + 1, y_mm + 5)
    left, top, right, bottom = black_box_mm(page, box)
    # A letter stands a little inside its width; round ones reach a little below the line.
    assert 0 <= left - x_mm <= 1.2 and 0 <= x_mm + code.width_mm - right <= 1.2
    assert bottom - y_mm == pytest.approx(0, abs=2.2)
    assert y_mm - top == pytest.approx(code.size_mm * 0.729, abs=0.4)


def test_a_pattern_is_black_without_hairlines(tmp_path: Path) -> None:
    (page,) = rasterise(render(blanks(1), A4_3X8), tmp_path)
    (one,) = placed(blanks(1), A4_3X8)
    pattern = one.marks[0]
    assert isinstance(pattern, Qr)
    scale = 300 / 25.4
    for x_mm, y_mm, wide_mm, high_mm in pattern.rectangles:
        box = [x_mm + one.place.x_mm, y_mm + one.place.y_mm]
        box += [box[0] + wide_mm, box[1] + high_mm]
        left, top, right, bottom = (edge * scale for edge in box)
        part = page.crop((int(left) + 2, int(top) + 2, int(right) - 1, int(bottom) - 1))
        assert part.getextrema() == (0, 0)


def test_the_same_labels_make_the_same_bytes_in_any_process() -> None:
    script = (
        "import hashlib; from companion.paper.pdf import render;"
        "from companion.paper.sheet import A4_3X8; from tests.paper.samples import cups;"
        "print(hashlib.sha256(render(cups(3), A4_3X8)).hexdigest())"
    )
    root = Path(__file__).parent.parent.parent
    there = subprocess.run(
        [sys.executable, "-c", script],
        env={"PYTHONHASHSEED": "1", "PYTHONPATH": str(root), "TZ": "Asia/Tokyo"},
        check=True,
        capture_output=True,
        text=True,
        timeout=60,
    ).stdout.strip()
    assert there == hashlib.sha256(render(cups(3), A4_3X8)).hexdigest()


def test_fonts_are_embedded_and_readable(tmp_path: Path) -> None:
    found = fonts(render([*cups(1), can()], A4_3X8), tmp_path)
    assert len(found) == 2
    for name, *marks in found:
        assert "DejaVuSansCondensed" in name
        assert marks == ["yes", "yes", "yes"]


def test_a_cup_label_says_what_helps_and_nothing_a_pour_makes_wrong(tmp_path: Path) -> None:
    for sheet in (A4_3X8, ROLL_62X29, TWO_WIDE):
        said = words(render(cups(1), sheet), tmp_path)
        for word in (cups(1)[0].code, "SLOW", "A 112.6 g", "B = 0.300 × A poured", "ply 1"):
            assert word in said
        for word in ("Hatch cover 14", "cup", "stop", "initials", "use by"):
            assert word in said
        # Planned B, planned total, and displays with a cup of 8.4 g on the scale.
        for word in ("33.8", "146.4", "121.0", "154.8", "43.9", "34.9"):
            assert word not in said


def test_a_container_label_says_what_is_in_it(tmp_path: Path) -> None:
    said = words(render([can(), can("")], ROLL_62X29), tmp_path)
    for word in ("HRD2SM", "HRD-S", "Lot HL-2291", "Expires 2027-01-31", "Opened 2026-03-01"):
        assert word in said
    assert said.count("Opened") == 2 and said.count("2026-03-01") == 1


def test_a_part_label_says_which_part_it_is(tmp_path: Path) -> None:
    for sheet in (A4_3X8, ROLL_62X29, TWO_WIDE):
        said = words(render(parts(1), sheet), tmp_path)
        for word in (parts(1)[0].code, "HC-014", "Hatch cover 14", "Job 14@2"):
            assert word in said
        assert "made on" in said and "initials" in said
    (one,) = placed(parts(1), A4_3X8, "https://companion.local")
    assert one.marks[0].content == f"HTTPS://COMPANION.LOCAL/P/{parts(1)[0].code}"
    # A serial as long as may be is set smaller and cut last, never run over the edge.
    (one,) = placed(parts(1, "W" * 40), ROLL_62X29)
    assert max(mark.x_mm + mark.width_mm for mark in one.marks if isinstance(mark, Text)) <= 62


def test_a_cup_without_a_known_system_still_gets_its_code_and_lines(tmp_path: Path) -> None:
    label = cup_label("7K2QMS", None, "146.4", ("", ""), Words())
    said = words(render([label], A4_3X8), tmp_path)
    assert "7K2QMS" in said and "use by" in said
    assert "B =" not in said


def test_it_refuses_a_code_that_is_none_and_a_sheet_that_does_not_fit() -> None:
    with pytest.raises(OutOfRange):
        render([BlankLabel("7K2QMT")], A4_3X8)
    with pytest.raises(OutOfRange):
        render(blanks(1), replace(A4_3X8, columns=4))
    with pytest.raises(OutOfRange):
        render(blanks(1), A4_3X8, "https://192.168.1.20")


def test_the_screen_shows_the_marks_of_the_paper() -> None:
    shown = preview(cups(25), replace(A4_3X8, start=23), "")
    assert (len(shown.labels), len(shown.places), shown.pages) == (2, 24, 2)
    (first, _) = shown.labels
    (same, *_) = placed(cups(1), replace(A4_3X8, start=23))
    assert first.place == same.place
    assert first.texts == tuple(mark for mark in same.marks if isinstance(mark, Text))
    sample = preview([BlankLabel("")] * 2, A4_3X8).labels[0]
    assert sample.black == "" and len(sample.open_patterns) == 1


@pytest.mark.parametrize(
    ("part_b_pbw", "text"),
    [(30, "0.300"), (36, "0.360"), (100 / 3, "0.333"), (1.67, "0.0167"), (2.5, "0.025")],
)
def test_a_ratio_on_paper_never_misleads(part_b_pbw: float, text: str) -> None:
    assert written_ratio(part_b_pbw / 100) == text
    card = SystemCard("S", 1, "R", "H", "W", part_b_pbw, 2, 150)
    label = cup_label("7K2QMS", card, "100", ("", ""), Words())
    assert label.ratio == f"B = {text} × A poured"
    assert SYSTEM.ratio == 0.3


def test_no_file_stays_open() -> None:
    """A server that printed all day would run out of them."""
    gc.collect()
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        render(cups(1), A4_3X8)
        gc.collect()
    assert [str(warning.message) for warning in caught] == []
