"""Export and import: the log as a file, out and in, by the same rules as over the network."""

from collections import Counter
from collections.abc import Sequence

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import Malformed, NotKnown, OutOfRange
from ...records import log, tables, trace
from ...records.log import CONFLICT, DUPLICATE, QUARANTINED, STORED, Contact, RowResult
from ...trade.codes import is_label
from ...wire.log_csv import read_log
from ...wire.row_check import is_log_id
from ..limits import MAX_FILE_BYTES
from ..state import now_utc, state
from . import spreadsheet, table_words, words
from .context import AsideLine, ExchangePage, Outcome
from .phrases import _
from .problem_words import file_problem
from .shop import open_shop

blueprint = Blueprint("exchange", __name__)

_MOST_SHOWN = 100


@blueprint.get("/exchange")
def exchange() -> str:
    """Both ways on one page."""
    return _page("", None)


@blueprint.get("/export.csv")
def export() -> Response:
    """The log, or the part of it that belongs to one cup or one phone."""
    code, log_id = request.args.get("cup", ""), request.args.get("log", "")
    if code and not is_label(code):
        raise OutOfRange("cup", code, _("a cup code of six characters"))
    if log_id and not is_log_id(log_id):
        raise OutOfRange("log", log_id, _("the id of a log, a lower-case UUID"))
    store = state().store
    if (code or log_id) and not log.all_rows(store, log_id=log_id, cup=code):
        raise NotKnown("cup" if code else "log", code or log_id)
    response = make_response(log.export(store, log_id=log_id, cup=code))
    response.headers["Content-Type"] = spreadsheet.CSV
    name = "-".join(["companion-log", *filter(None, (code, log_id[:8])), now_utc()[:10]])
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return response


@blueprint.get("/export/people.csv")
def people_csv() -> Response:
    """Cups or readings for a person's spreadsheet, in the manner of the reader's language."""
    table = request.args.get("table", tables.CUPS)
    if table not in tables.COLUMNS:
        raise OutOfRange("table", table, " | ".join(tables.COLUMNS))
    shop = open_shop(state().store)
    lines = tables.table(table, trace.all_stories(state().store), table_words.speech(shop))
    return spreadsheet.answer(table, table_words.headings(table), lines)


@blueprint.get("/import")
def import_form() -> Response:
    """Nothing to read here: the form is on the page of both ways."""
    return redirect(url_for(".exchange"), 303)


@blueprint.post("/import")
def import_log() -> Response:
    """Take a log file a person brings."""
    request.max_content_length = MAX_FILE_BYTES
    upload = request.files.get("file")
    body = upload.read() if upload else b""
    if not body:
        return make_response(_page(_empty(upload.filename if upload else None), None), 422)
    try:
        lines = read_log(body, bom_allowed=True)
    except Malformed as error:
        return make_response(_page(file_problem(error), None), 422)
    results = log.import_lines(state().store, lines, Contact(now_utc()))
    return make_response(_page("", _outcome(results)))


def _empty(filename: str | None) -> str:
    if filename:
        return _("The file is empty. A log file is needed: CSV, as a phone shares it.")
    return _("No file is chosen. Choose a log file: CSV, as a phone shares it.")


def _outcome(results: Sequence[RowResult]) -> Outcome:
    counted = Counter(result.status for result in results)
    aside = [result for result in results if result.status in (CONFLICT, QUARANTINED)]
    return Outcome(
        total=len(results),
        counts=tuple(
            (words.status(status), counted[status])
            for status in (STORED, DUPLICATE, CONFLICT, QUARANTINED)
        ),
        aside=tuple(_aside_line(result) for result in aside[:_MOST_SHOWN]),
        more_aside=len(aside[_MOST_SHOWN:]),
    )


def _aside_line(result: RowResult) -> AsideLine:
    return AsideLine(
        seq=str(result.seq or ""),
        status=words.status(result.status),
        reason=words.aside_reason(result.status, result.reason),
        at=str(result.line),
    )


def _page(error: str, outcome: Outcome | None) -> str:
    return render_template("office/exchange.html", page=ExchangePage(error, outcome))
