"""Label sheets as PDF: vector patterns, embedded fonts, the same bytes for the same labels."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from fpdf import FPDF
from fpdf.enums import PathPaintRule
from fpdf.fonts import TTFFont

from .labels import Label
from .layout import lay_out, smallest
from .marks import Mark, Qr, Rule, Text
from .sheet import Place, Sheet, places, require
from .typeface import BOLD, REGULAR

#: A printed sheet has no date of its own; a fixed one keeps its bytes reproducible.
_DATE = datetime(2000, 1, 1, tzinfo=UTC)
_FAMILY = "label"
_RULE_MM = 0.2
#: The library sets the baseline of a cell of no height this share of the type size below it.
_BASELINE_SHARE = 0.3


@dataclass(frozen=True, slots=True)
class Placed:
    """One label on the page: its place and its marks."""

    place: Place
    marks: tuple[Mark, ...]


def placed(labels: Sequence[Label], sheet: Sheet, base: str = "") -> list[Placed]:
    """Every label with its place.

    :raises OutOfRange: the sheet cannot be printed with these labels.
    """
    for kind in {type(label) for label in labels}:
        require(sheet, smallest(kind, sheet, base))
    return [
        Placed(place, lay_out(label, sheet, base))
        for place, label in zip(places(sheet, len(labels)), labels, strict=True)
    ]


def page_count(sheet: Sheet, count: int) -> int:
    """Pages that so many labels take."""
    return places(sheet, count)[-1].page + 1 if count else 0


def render(labels: Sequence[Label], sheet: Sheet, base: str = "") -> bytes:
    """The sheets as one PDF.

    :param base: ``https://NAME:PORT`` where phones reach this shop, empty while there is none.
    :raises OutOfRange: the sheet cannot be printed with these labels.
    """
    found = placed(labels, sheet, base)
    pdf = _document(sheet)
    for one in found:
        while pdf.page <= one.place.page:
            pdf.add_page()
        for mark in one.marks:
            _draw(pdf, mark, one.place)
    body = bytes(pdf.output())
    close_fonts(pdf)
    return body


def close_fonts(pdf: FPDF) -> None:
    """Close the files of the fonts: the library leaves them open until memory is cleared up."""
    for font in pdf.fonts.values():
        if isinstance(font, TTFFont):
            font.ttfont.close()


def _document(sheet: Sheet) -> FPDF:
    pdf = FPDF(unit="mm", format=(sheet.page_width_mm, sheet.page_height_mm))
    pdf.set_creation_date(_DATE)
    pdf.set_auto_page_break(False)
    pdf.set_margin(0)
    pdf.c_margin = 0
    pdf.add_font(_FAMILY, "", REGULAR)
    pdf.add_font(_FAMILY, "B", BOLD)
    pdf.set_text_shaping(True)
    pdf.set_line_width(_RULE_MM)
    return pdf


def _draw(pdf: FPDF, mark: Mark, place: Place) -> None:
    if isinstance(mark, Text):
        pdf.set_font(_FAMILY, "B" if mark.bold else "", mark.size_pt)
        baseline_mm = place.y_mm + mark.baseline_mm
        pdf.set_xy(place.x_mm + mark.x_mm, baseline_mm - _BASELINE_SHARE * mark.size_mm)
        pdf.cell(mark.width_mm, 0, mark.text)
    elif isinstance(mark, Rule):
        x_mm, y_mm = place.x_mm + mark.x_mm, place.y_mm + mark.y_mm
        pdf.line(x_mm, y_mm, x_mm + mark.length_mm, y_mm)
    else:
        _draw_pattern(pdf, mark, place)


def _draw_pattern(pdf: FPDF, mark: Qr, place: Place) -> None:
    """One path and one fill: rectangles filled one by one leave hairlines between them."""
    with pdf.new_path(paint_rule=PathPaintRule.FILL_NONZERO) as path:
        path.style.fill_color = "#000000"
        for x_mm, y_mm, width_mm, height_mm in mark.rectangles:
            path.rectangle(place.x_mm + x_mm, place.y_mm + y_mm, width_mm, height_mm)
