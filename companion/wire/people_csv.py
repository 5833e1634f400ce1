"""Tables for a person's spreadsheet: figures of the place, and no cell that computes anything.

A spreadsheet runs a text that begins like a formula, and turns a text that looks like a figure or a
day into one: a cup code 2E4567 would become a number without end. Such texts get an apostrophe in
front, as spreadsheets themselves write it. Figures and moments are ours and stay what they are.
The log as it travels is another file and is not touched by this.

Sources: RFC 4180 for the form; the signs that begin a formula from OWASP, CSV Injection (from
memory); that texts are converted is common practice of spreadsheets, no source.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..trade.errors import OutOfRange

BOM = "\ufeff"
SEPARATORS = (",", ";", "\t")
DECIMAL_MARKS = (".", ",", "\u066b")

_FIGURE = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}( [0-9]{2}:[0-9]{2}:[0-9]{2})?")
#: Signs that begin a formula, in their wide and small forms too.
_SIGN = r"[=+\-@\uff1d\uff0b\uff0d\uff20\ufe66\ufe62\ufe63\ufe6b]"
#: What may stand before such a sign unseen: blanks, quotes, characters without width.
_UNSEEN = r"[\s\"\'\u200b-\u200f\u2060\ufeff]*"
_FORMULA = re.compile(rf"{_UNSEEN}{_SIGN}|[\t\r\n]")
#: A cell that begins within a text, should the file be opened with another separator.
_FORMULA_INSIDE = re.compile(rf"(?<=[,;\t|\r\n])(?=[^\S\t\r\n]*[\"\']*{_SIGN})")
#: A day with its month as a word, in the languages we speak.
_DAY_IN_WORDS = re.compile(
    r"\s*([0-9]{1,2}[\s./\-]*)?(jan|feb|mar|m\u00e4r|mrz|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)"
    r"[a-z]*[\s.,/\-]*[0-9]{1,4}[\s.,/\-0-9]*",
    re.IGNORECASE,
)
#: Digits with what stands between them in figures, times and days, or with a power of ten.
_LIKE_A_FIGURE = re.compile(r"\s*[0-9][0-9.,:/\-\s]*([eE][0-9]+)?[%\s]*", re.ASCII)


@dataclass(frozen=True, slots=True)
class Figure:
    """A number as text with a point; empty where there is none."""

    text: str


@dataclass(frozen=True, slots=True)
class Moment:
    """A local day, or day and time, as ISO 8601 with a blank; empty where there is none."""

    text: str


Cell = str | Figure | Moment


@dataclass(frozen=True, slots=True)
class Manner:
    """How a spreadsheet of a place expects its file.

    :ivar separator: one of ``SEPARATORS``.
    :ivar decimal_mark: one of ``DECIMAL_MARKS``.
    :ivar bom: whether a byte order mark tells that the text is UTF-8.
    """

    separator: str = ","
    decimal_mark: str = "."
    bom: bool = True

    def __post_init__(self) -> None:
        if self.separator not in SEPARATORS:
            raise OutOfRange("separator", self.separator, "comma, semicolon or tab")
        if self.decimal_mark not in DECIMAL_MARKS:
            raise OutOfRange("decimal mark", self.decimal_mark, "point or comma")
        if self.separator == self.decimal_mark:
            raise OutOfRange("separator", self.separator, "another sign than the decimal mark")


def manner(decimal_mark: str, separator: str = "", *, bom: bool = True) -> Manner:
    """Manner of a place: where the comma is the decimal mark, the semicolon separates."""
    return Manner(separator or (";" if decimal_mark == "," else ","), decimal_mark, bom)


def write_table(header: Sequence[str], lines: Iterable[Sequence[Cell]], manner: Manner) -> str:
    """Write a table.

    :return: CSV with CRLF line ends.
    :raises OutOfRange: a figure or a moment is none.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=manner.separator, lineterminator="\r\n")
    writer.writerow([harmless(text) for text in header])
    for line in lines:
        writer.writerow([_written(cell, manner) for cell in line])
    return (BOM if manner.bom else "") + out.getvalue()


def harmless(text: str) -> str:
    """A text no spreadsheet computes or converts; most texts stay as they are."""
    converted = _LIKE_A_FIGURE.fullmatch(text) or _DAY_IN_WORDS.fullmatch(text)
    in_front = "'" if converted or _FORMULA.match(text) else ""
    return in_front + _FORMULA_INSIDE.sub("'", text)


def _written(cell: Cell, manner: Manner) -> str:
    if isinstance(cell, str):
        return harmless(cell)
    pattern = _FIGURE if isinstance(cell, Figure) else _MOMENT
    if cell.text and not pattern.fullmatch(cell.text):
        raise OutOfRange("cell", cell.text, "a figure with a point, or a day and time")
    return cell.text.replace(".", manner.decimal_mark) if isinstance(cell, Figure) else cell.text
