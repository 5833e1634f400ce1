"""The sheet: where labels lie on the page, in millimetres from its upper left corner.

A roll of single labels is a sheet of one label whose page is the label. What cannot be printed is
said field by field, with what is allowed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from math import floor

from ..errors import OutOfRange
from ..trade.numbers import parse_entry

A4_WIDTH_MM, A4_HEIGHT_MM = 210.0, 297.0
#: Edge of a page that office printers leave white; common practice, no source.
UNPRINTED_MM = 4.3
_LEAST_EDGE_MM = 1.0
#: Hundredths: finer than any sheet is cut, coarser than the noise of binary fractions.
_GUARD_MM = 0.005


@dataclass(frozen=True, slots=True)
class Sheet:
    """Measures of a sheet, its labels counted along the rows from the upper left one."""

    rows: int = 8
    columns: int = 3
    label_width_mm: float = 70.0
    label_height_mm: float = 37.0
    page_width_mm: float = A4_WIDTH_MM
    page_height_mm: float = A4_HEIGHT_MM
    left_mm: float = 0.0
    top_mm: float = 0.5
    gap_x_mm: float = 0.0
    gap_y_mm: float = 0.0
    #: place of the first label, 1 is the upper left one: sheets are used up in steps.
    start: int = 1

    @property
    def places(self) -> int:
        """Labels on one page."""
        return self.rows * self.columns

    @property
    def edges(self) -> "Edges":
        """How near to the edge of a label may be printed, all labels of the sheet alike."""
        if self.places == 1 and (self.left_mm, self.top_mm) == (0, 0):
            # A printer for rolls reaches nearly to the edge.
            return Edges(_LEAST_EDGE_MM, _LEAST_EDGE_MM)
        right_mm = self.page_width_mm - self.left_mm
        right_mm -= _extent(self.columns, self.label_width_mm, self.gap_x_mm)
        bottom_mm = self.page_height_mm - self.top_mm
        bottom_mm -= _extent(self.rows, self.label_height_mm, self.gap_y_mm)
        return Edges(
            max(_LEAST_EDGE_MM, UNPRINTED_MM - max(0.0, min(self.left_mm, right_mm))),
            max(_LEAST_EDGE_MM, UNPRINTED_MM - max(0.0, min(self.top_mm, bottom_mm))),
        )


@dataclass(frozen=True, slots=True)
class Edges:
    """Distance from the edges of a label within which nothing is printed."""

    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Place:
    """Where one label lies: page from 0, and its upper left corner."""

    page: int
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Smallest:
    """Smallest label a content can be printed on."""

    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class FieldProblem:
    """What is wrong with one field: ``figure``, ``whole``, ``range``, ``page`` or ``none``."""

    field: str
    problem: str
    value: str
    low: str = ""
    high: str = ""


FIELDS = tuple(field.name for field in fields(Sheet))
_COUNTS = ("rows", "columns", "start")
#: Least and most of each measure on its own.
_LIMITS: Mapping[str, tuple[float, float]] = {
    "rows": (1, 40),
    "columns": (1, 20),
    "label_width_mm": (10, 450),
    "label_height_mm": (10, 450),
    "page_width_mm": (20, 450),
    "page_height_mm": (20, 450),
    "left_mm": (0, 440),
    "top_mm": (0, 440),
    "gap_x_mm": (0, 100),
    "gap_y_mm": (0, 100),
}

A4_3X8 = Sheet()


def roll(width_mm: float, height_mm: float) -> Sheet:
    """Single labels from a roll."""
    return Sheet(1, 1, width_mm, height_mm, width_mm, height_mm, 0.0, 0.0)


ROLL_62X29 = roll(62.0, 29.0)


def centred(sheet: Sheet) -> tuple[float, float]:
    """Left and top margin that put the labels in the middle of the page; never below zero."""
    wide = _extent(sheet.columns, sheet.label_width_mm, sheet.gap_x_mm)
    high = _extent(sheet.rows, sheet.label_height_mm, sheet.gap_y_mm)
    return max(0.0, (sheet.page_width_mm - wide) / 2), max(0.0, (sheet.page_height_mm - high) / 2)


def places(sheet: Sheet, count: int) -> list[Place]:
    """Where the next labels lie, page after page."""
    found = []
    for number in range(sheet.start - 1, sheet.start - 1 + count):
        page, place = divmod(number, sheet.places)
        row, column = divmod(place, sheet.columns)
        x_mm = sheet.left_mm + column * (sheet.label_width_mm + sheet.gap_x_mm)
        y_mm = sheet.top_mm + row * (sheet.label_height_mm + sheet.gap_y_mm)
        found.append(Place(page, x_mm, y_mm))
    return found


def written(sheet: Sheet) -> dict[str, str]:
    """Measures as text, as they stand in a form."""
    return {name: plain(getattr(sheet, name)) for name in FIELDS}


def read(typed: Mapping[str, str]) -> tuple[Sheet, tuple[FieldProblem, ...]]:
    """Read typed measures.

    :param typed: field -> text.
    :return: the sheet, or every measure that is no figure; whether the sheet can be printed is
        for ``check`` to say.
    """
    entries = {name: parse_entry(typed.get(name, "")) for name in FIELDS}
    problems = [
        FieldProblem(name, "figure", typed.get(name, "").strip())
        for name, entry in entries.items()
        if entry.problem
    ]
    problems += [
        FieldProblem(name, "whole", entries[name].value)
        for name in _COUNTS
        if not entries[name].problem and entries[name].number != floor(entries[name].number)
    ]
    if problems:
        return A4_3X8, tuple(problems)
    measures = {name: entry.number for name, entry in entries.items() if name not in _COUNTS}
    rows, columns, start = (int(entries[name].number) for name in _COUNTS)
    return Sheet(rows=rows, columns=columns, start=start, **measures), ()


def check(sheet: Sheet, smallest: Smallest) -> tuple[FieldProblem, ...]:
    """Everything that keeps a sheet from being printed."""
    problems = [_outside(sheet, name, *limits) for name, limits in _LIMITS.items()]
    if not any(problems):
        problems = [
            _does_not_fit(sheet, "columns", "width", smallest.width_mm),
            _does_not_fit(sheet, "rows", "height", smallest.height_mm),
            _outside(sheet, "start", 1, sheet.places),
        ]
    return tuple(problem for problem in problems if problem)


def require(sheet: Sheet, smallest: Smallest) -> None:
    """Refuse a sheet that cannot be printed.

    :raises OutOfRange: with the first field that is wrong.
    """
    for problem in check(sheet, smallest):
        unit = "" if problem.field in _COUNTS else " mm"
        allowed = f"{problem.low} to {problem.high}{unit}"
        raise OutOfRange(problem.field, problem.value, allowed)


def _outside(sheet: Sheet, name: str, low: float, high: float) -> FieldProblem | None:
    value = getattr(sheet, name)
    if low <= value <= high:
        return None
    return FieldProblem(name, "range", plain(value), plain(low), plain(high))


def _does_not_fit(sheet: Sheet, count: str, side: str, least_mm: float) -> FieldProblem | None:
    """Labels that reach over the page, or are too small for their content."""
    number = getattr(sheet, count)
    label_mm = getattr(sheet, f"label_{side}_mm")
    gap_mm = sheet.gap_x_mm if side == "width" else sheet.gap_y_mm
    room_mm = getattr(sheet, f"page_{side}_mm")
    room_mm -= sheet.left_mm if side == "width" else sheet.top_mm
    most_mm = (room_mm - (number - 1) * gap_mm) / number
    if least_mm - _GUARD_MM <= label_mm <= most_mm + _GUARD_MM:
        return None
    if most_mm >= least_mm:
        limits = plain(_up(least_mm)), plain(_down(most_mm))
        return FieldProblem(f"label_{side}_mm", "range", plain(label_mm), *limits)
    fitting = floor((room_mm + gap_mm + _GUARD_MM) / (least_mm + gap_mm))
    if fitting < 1:
        needed_mm = getattr(sheet, f"page_{side}_mm") - room_mm + least_mm
        page = f"page_{side}_mm"
        low, high = plain(_up(needed_mm)), plain(_LIMITS[page][1])
        return FieldProblem(page, "page", plain(getattr(sheet, page)), low, high)
    return FieldProblem(count, "range", plain(number), "1", plain(fitting))


def _extent(count: int, label_mm: float, gap_mm: float) -> float:
    return count * label_mm + (count - 1) * gap_mm


def _up(value_mm: float) -> float:
    return -_down(-value_mm)


def _down(value_mm: float) -> float:
    return floor(value_mm * 10 + _GUARD_MM) / 10


def plain(value: float) -> str:
    """A measure as text with a point, to a hundredth at most."""
    return f"{round(value, 2):g}"
