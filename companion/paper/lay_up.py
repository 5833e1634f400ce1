"""The lay-up sheet as PDF: steps with blanks for times and initials, and the cups of the job.

Plain rows on A4; a row that does not fit begins the next page, with the heads of its table.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from fpdf import FPDF

from . import typeface
from .pdf import close_fonts

_FAMILY = "sheet"
_DATE = datetime(2000, 1, 1, tzinfo=UTC)
_WIDTH_MM, _HEIGHT_MM, _EDGE_MM = 210.0, 297.0, 15.0
_ROW_MM, _TEXT_PT, _HEAD_PT, _TITLE_PT = 8.5, 9.0, 8.0, 16.0
_LINE_MM = 5.0


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its head and its width, mm."""

    head: str
    width_mm: float


@dataclass(frozen=True, slots=True)
class PaperTable:
    """A table: a heading, its columns, and rows of texts; an empty text is a blank to write in."""

    heading: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class PaperSheet:
    """A whole sheet.

    :ivar lines: facts under the title.
    :ivar notes: what must be said, under the tables.
    """

    title: str
    lines: tuple[str, ...]
    tables: tuple[PaperTable, ...]
    notes: tuple[str, ...]


def render_sheet(sheet: PaperSheet) -> bytes:
    """The sheet as PDF; the same bytes for the same texts."""
    pdf = _document()
    _text(pdf, sheet.title, _TITLE_PT, bold=True, height_mm=9)
    for line in sheet.lines:
        _text(pdf, line, _TEXT_PT)
    for table in sheet.tables:
        _table(pdf, table)
    pdf.ln(3)
    for note in sheet.notes:
        _text(pdf, note, _TEXT_PT)
        pdf.ln(1)
    body = bytes(pdf.output())
    close_fonts(pdf)
    return body


def _document() -> FPDF:
    pdf = FPDF(unit="mm", format="A4")
    pdf.set_creation_date(_DATE)
    pdf.set_margins(_EDGE_MM, _EDGE_MM, _EDGE_MM)
    pdf.set_auto_page_break(True, _EDGE_MM)
    pdf.add_font(_FAMILY, "", typeface.REGULAR)
    pdf.add_font(_FAMILY, "B", typeface.BOLD)
    pdf.set_text_shaping(True)
    pdf.set_line_width(0.2)
    pdf.add_page()
    return pdf


def _text(
    pdf: FPDF, text: str, size_pt: float, *, bold: bool = False, height_mm: float = _LINE_MM
) -> None:
    pdf.set_font(_FAMILY, "B" if bold else "", size_pt)
    pdf.set_x(_EDGE_MM)
    pdf.multi_cell(
        _WIDTH_MM - 2 * _EDGE_MM, height_mm, text, align="L", new_x="LMARGIN", new_y="NEXT"
    )


def _table(pdf: FPDF, table: PaperTable) -> None:
    # A heading alone at the foot of a page belongs to the next one.
    if pdf.get_y() > _HEIGHT_MM - _EDGE_MM - 4 * _ROW_MM:
        pdf.add_page()
    pdf.ln(3)
    _text(pdf, table.heading, 11, bold=True, height_mm=7)
    _heads(pdf, table.columns)
    for row in table.rows:
        if pdf.get_y() > _HEIGHT_MM - _EDGE_MM - _ROW_MM:
            pdf.add_page()
            _heads(pdf, table.columns)
        _row(pdf, table.columns, row, _TEXT_PT, bold=False)


def _heads(pdf: FPDF, columns: Sequence[Column]) -> None:
    _row(pdf, columns, tuple(one.head for one in columns), _HEAD_PT, bold=True)


def _row(
    pdf: FPDF, columns: Sequence[Column], texts: Sequence[str], size_pt: float, *, bold: bool
) -> None:
    pdf.set_font(_FAMILY, "B" if bold else "", size_pt)
    pdf.set_x(_EDGE_MM)
    for column, text in zip(columns, texts, strict=True):
        room_mm = column.width_mm - 2 * pdf.c_margin
        least_pt = typeface.fitting_size_pt(text, size_pt, 6.0, room_mm, bold=bold)
        pdf.set_font_size(least_pt)
        shown = typeface.cut(text, least_pt, room_mm, bold=bold)
        pdf.cell(column.width_mm, _ROW_MM, shown, border=1)
    pdf.ln(_ROW_MM)
