"""The log as CSV: RFC 4180, UTF-8, CRLF, a header row, one observation a row.

Reading is strict about the file and patient about the row. A file that is not CSV, lacks a column
or has one twice is refused whole. A row that is not what it should be comes back with its raw
text and the problem, so that it can be set aside and looked at; nothing is dropped.
"""

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from ..errors import Malformed
from ..trade.rows import COLUMNS, Row
from .row_check import is_log_id, row_problem

BOM = "\ufeff"
_ENDING = "\r\n"
#: Digits of the largest whole number JavaScript counts to.
_SEQ_DIGITS = 16


@dataclass(frozen=True, slots=True)
class Line:
    """One record of a log file: the row, or the raw text with its problem."""

    number: int
    raw: str
    row: Row | None
    log_id: str
    seq: int | None
    problem: str = ""
    #: column names of its file as CSV, where they are not those of the format in its order.
    header: str = ""


def write_log(rows: Iterable[Row]) -> str:
    """Write rows as the log travels; columns of later versions follow the known ones.

    :source: RFC 4180 section 2; CF-10 in tests/wire.
    """
    listed = list(rows)
    extra: list[str] = []
    for row in listed:
        extra.extend(name for name, _ in row.extra if name not in extra)
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator=_ENDING)
    writer.writerow([*COLUMNS, *extra])
    for row in listed:
        kept = dict(row.extra)
        writer.writerow(
            [str(getattr(row, name)) for name in COLUMNS] + [kept.get(name, "") for name in extra]
        )
    return out.getvalue()


def read_log(body: bytes, *, bom_allowed: bool = False) -> list[Line]:
    """Read a log.

    :param body: the file as it came.
    :param bom_allowed: true for a file a person brings; programs in between may have added one.
    :return: one line per record after the header.
    :raises Malformed: not UTF-8, a NUL, a BOM, not CSV, a column missing or doubled.
    """
    text = _decode(body, bom_allowed)
    records = list(_records(text))
    if not records:
        raise Malformed("header_missing", "line 1", f"the columns {', '.join(COLUMNS)}")
    header = records[0][2]
    _check_header(header)
    foreign = "" if header == list(COLUMNS) else records[0][1].rstrip("\r\n")
    lines = (_line(number, raw, fields, header) for number, raw, fields in records[1:])
    return [replace(line, header=foreign) for line in lines]


def read_fields(raw: str, header: str = "") -> dict[str, str]:
    """Legible columns of a raw row, by name; columns of the format it lacks are empty.

    :param raw: the row as it came.
    :param header: column names of its file as CSV; empty for those of the format.
    """
    names = next(csv.reader([header])) if header else list(COLUMNS)
    try:
        values = next(csv.reader(io.StringIO(raw, newline="")), [])
    except csv.Error:
        values = []
    found = dict(zip(names, values, strict=False))
    return {**dict.fromkeys(COLUMNS, ""), **found}


def _decode(body: bytes, bom_allowed: bool) -> str:
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        raise Malformed("not_utf8", f"byte {error.start + 1}", "UTF-8 text") from error
    if text.startswith(BOM):
        if not bom_allowed:
            raise Malformed("byte_order_mark", "byte 1", "UTF-8 without a byte order mark")
        text = text[1:]
    if "\0" in text:
        raise Malformed("nul", f"character {text.index(chr(0)) + 1}", "text without NUL")
    return text


def _records(text: str) -> Iterable[tuple[int, str, list[str]]]:
    """Records with the line they start on and their raw text."""
    lines = list(io.StringIO(text, newline=""))
    reader = csv.reader(lines, strict=True)
    start = 0
    while True:
        try:
            fields = next(reader, None)
        except csv.Error as error:
            raise Malformed("not_csv", f"line {start + 1} ({error})", "CSV by RFC 4180") from error
        if fields is None:
            return
        if fields:
            yield start + 1, "".join(lines[start : reader.line_num]), fields
        start = reader.line_num


def _check_header(header: Sequence[str]) -> None:
    for name in header:
        if header.count(name) > 1:
            raise Malformed("column_doubled", f"column {name!r}", "each column once")
    missing = [name for name in COLUMNS if name not in header]
    if missing:
        raise Malformed("column_missing", f"column {missing[0]!r}", ", ".join(COLUMNS))


def _line(number: int, raw: str, fields: list[str], header: list[str]) -> Line:
    named = dict(zip(header, fields, strict=False))
    seq = _seq(named.get("seq", ""))
    log_id = named.get("log_id", "")
    log_id = log_id if is_log_id(log_id) else ""
    if len(fields) != len(header):
        return Line(number, raw, None, log_id, seq, "field_count")
    if not raw.endswith("\n"):
        return Line(number, raw, None, log_id, seq, "cut_off")
    problem = row_problem(named)
    if problem or seq is None:
        return Line(number, raw, None, log_id, seq, problem or "seq")
    known = {name: named[name] for name in COLUMNS if name != "seq"}
    extra = tuple((name, value) for name, value in named.items() if name not in COLUMNS)
    return Line(number, raw, Row(**known, seq=seq, extra=extra), log_id, seq)


def _seq(text: str) -> int | None:
    sound = text.isascii() and text.isdigit() and len(text) <= _SEQ_DIGITS
    return int(text) if sound and 0 < int(text) < 2**53 else None
