"""Options that measure a sheet of labels, and the sheet they make."""

import argparse
from collections.abc import Callable, Sequence
from dataclasses import replace

from ..errors import OutOfRange
from ..paper.labels import Label
from ..paper.layout import smallest
from ..paper.sheet import A4_3X8, Sheet, centred, check, roll
from ..trade.numbers import is_wire_number

#: Measure -> the option that sets it, and the text it is part of.
_OPTIONS = {
    "rows": "--sheet",
    "columns": "--sheet",
    "label_width_mm": "--label",
    "label_height_mm": "--label",
    "page_width_mm": "--page",
    "page_height_mm": "--page",
    "left_mm": "--margin",
    "top_mm": "--margin",
    "gap_x_mm": "--gap",
    "gap_y_mm": "--gap",
    "start": "--start",
}


def add_options(made: argparse.ArgumentParser) -> None:
    """Hang the measures on a command."""
    two, counts = _pair("two measures in mm such as 70x37"), _pair("columns x rows such as 3x8", 1)
    made.add_argument("--sheet", type=counts, metavar="CxR", help="columns x rows (3x8)")
    made.add_argument("--label", type=two, metavar="WxH", help="label, mm (70x37)")
    made.add_argument("--page", type=two, metavar="WxH", help="page, mm (210x297)")
    made.add_argument("--margin", type=two, metavar="LxT", help="left and top, mm (centred)")
    made.add_argument("--gap", type=two, metavar="XxY", help="between labels, mm (0x0)")
    made.add_argument("--start", type=_whole, metavar="N", help="place of the first label (1)")
    made.add_argument("--roll", type=two, metavar="WxH", help="single labels from a roll, mm")


def _pair(allowed: str, step: float = 0.01) -> Callable[[str], tuple[float, float]]:
    """Make a reader for ``70x37``."""

    def read(text: str) -> tuple[float, float]:
        first, cross, second = text.partition("x")
        if cross and is_wire_number(first) and is_wire_number(second):
            pair = float(first), float(second)
            if all(value >= 0 and (step < 1 or value == int(value)) for value in pair):
                return pair
        raise argparse.ArgumentTypeError(f"{text!r}: allowed is {allowed}")

    return read


def _whole(text: str) -> int:
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) == int(text):
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r}: allowed is a whole number from 1")


def sheet_of(options: argparse.Namespace) -> Sheet:
    """The sheet of these options, centred on its page where no margin is given.

    :raises OutOfRange: a roll is asked for together with another measure.
    """
    given = [
        name
        for name in ("sheet", "label", "page", "margin", "gap", "start")
        if getattr(options, name) is not None
    ]
    if options.roll:
        if given:
            raise OutOfRange("--roll", f"--{given[0]} with it", "--roll alone")
        return roll(*options.roll)
    columns, rows = options.sheet or (A4_3X8.columns, A4_3X8.rows)
    width_mm, height_mm = options.label or (A4_3X8.label_width_mm, A4_3X8.label_height_mm)
    page_mm = options.page or (A4_3X8.page_width_mm, A4_3X8.page_height_mm)
    gap_x_mm, gap_y_mm = options.gap or (0.0, 0.0)
    sheet = Sheet(
        rows=int(rows),
        columns=int(columns),
        label_width_mm=width_mm,
        label_height_mm=height_mm,
        page_width_mm=page_mm[0],
        page_height_mm=page_mm[1],
        gap_x_mm=gap_x_mm,
        gap_y_mm=gap_y_mm,
        start=options.start or 1,
    )
    left_mm, top_mm = options.margin or centred(sheet)
    return replace(sheet, left_mm=left_mm, top_mm=top_mm)


def require(sheet: Sheet, made: Sequence[Label], base: str = "") -> None:
    """Refuse a sheet by the option that is wrong, before anything is minted.

    :raises OutOfRange: these labels cannot be printed on it.
    """
    for problem in check(sheet, smallest(type(made[0]), sheet, base)):
        single = sheet.places == 1 and sheet.page_width_mm == sheet.label_width_mm
        option = "--roll" if single else _OPTIONS[problem.field]
        word = problem.field.removesuffix("_mm").replace("_", " ")
        allowed = f"{problem.low} to {problem.high}"
        raise OutOfRange(option, f"{word} {problem.value}", f"{word} {allowed}")
