"""Materials: what is bought and what is left of it, with every card in its newest revision."""

from flask import Blueprint, Response, render_template

from ...wire.people_csv import Cell, Figure
from ..state import now_utc, state
from . import card_tables, spreadsheet
from .card_context import MaterialsPage
from .figures import day, day_and_time, figure
from .phrases import _

blueprint = Blueprint("materials", __name__)


@blueprint.get("/materials")
def listing() -> str:
    """Every list on one page."""
    page = MaterialsPage(card_tables.tables(state().store, now_utc()[:10]))
    return render_template("office/materials.html", page=page)


@blueprint.get("/materials/<kind>.csv")
def csv(kind: str) -> Response:
    """One list as a file for a spreadsheet."""
    table = card_tables.table(state().store, kind, now_utc()[:10])
    if not table.new:
        lines = ((line.code, *line.cells) for line in table.lines)
        return spreadsheet.answer(kind, table.headings, lines)
    first, *others = table.headings
    cards = ((line.code, Figure(str(line.revision)), *line.cells) for line in table.lines)
    return spreadsheet.answer(kind, [first, _("Revision"), *others], cards)


def cell_text(cell: Cell) -> str:
    """A cell of a table as it is read on a page."""
    if isinstance(cell, str):
        return cell
    if isinstance(cell, Figure):
        return figure(cell.text)
    on, _blank, at = cell.text.partition(" ")
    return day_and_time(f"{on}T{at}Z") if at else day(on)


def is_figure(cell: Cell) -> bool:
    """Whether a cell holds a figure."""
    return isinstance(cell, Figure)
