"""Lists as files for a person's spreadsheet, in the manner of the reader's language."""

from collections.abc import Iterable, Sequence

from babel.numbers import get_decimal_symbol
from flask import Response, make_response, request
from flask_babel import get_locale

from ...errors import OutOfRange
from ...wire.people_csv import Cell, manner, write_table
from ..state import now_utc

CSV = "text/csv; charset=utf-8; header=present"
_SEPARATORS = {"": "", "comma": ",", "semicolon": ";", "tab": "\t"}


def answer(name: str, headings: Sequence[str], lines: Iterable[Sequence[Cell]]) -> Response:
    """A table as a file to keep.

    The address may name ``separator`` (comma, semicolon, tab) and ``bom`` (no).

    :raises OutOfRange: there is no such separator.
    """
    asked = request.args.get("separator", "")
    if asked not in _SEPARATORS:
        raise OutOfRange("separator", asked, " | ".join(filter(None, _SEPARATORS)))
    mark = get_decimal_symbol(get_locale())
    how = manner(mark, _SEPARATORS[asked], bom=request.args.get("bom", "yes") != "no")
    response = make_response(write_table(headings, lines, how).encode())
    response.headers["Content-Type"] = CSV
    file = f"companion-{name}-{now_utc()[:10]}.csv"
    response.headers["Content-Disposition"] = f'attachment; filename="{file}"'
    return response
