"""``companion labels``: sheets of labels as PDF."""

import argparse
import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from ..errors import NotKnown, OutOfRange
from ..paper.asked import MOST_LABELS
from ..paper.labels import BlankLabel, Label, Words, container_label, cup_label
from ..paper.layout import smallest
from ..paper.pdf import page_count, render
from ..paper.sheet import A4_3X8, Sheet, centred, check, plain, roll
from ..records import catalogue, labels, plans
from ..records.store import Store
from ..trade.cards import Container, Job, Lot, SystemCard
from ..trade.codes import forgive
from ..trade.numbers import is_wire_number
from ..trade.times import format_utc
from .records import command, open_records

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


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    made = command(commands, "labels", "sheets of labels as PDF", run)
    wanted = made.add_mutually_exclusive_group(required=True)
    wanted.add_argument("--cups", nargs="+", metavar="CODE", help="planned cups")
    wanted.add_argument("--blank", type=_count, metavar="N", help="so many new codes")
    wanted.add_argument("--containers", nargs="+", metavar="CODE", help="cans on record")
    two, counts = _pair("two measures in mm such as 70x37"), _pair("columns x rows such as 3x8", 1)
    made.add_argument("--sheet", type=counts, metavar="CxR", help="columns x rows (3x8)")
    made.add_argument("--label", type=two, metavar="WxH", help="label, mm (70x37)")
    made.add_argument("--page", type=two, metavar="WxH", help="page, mm (210x297)")
    made.add_argument("--margin", type=two, metavar="LxT", help="left and top, mm (centred)")
    made.add_argument("--gap", type=two, metavar="XxY", help="between labels, mm (0x0)")
    made.add_argument("--start", type=_whole, metavar="N", help="place of the first label (1)")
    made.add_argument("--roll", type=two, metavar="WxH", help="single labels from a roll, mm")
    made.add_argument("--output", "-o", type=Path, required=True, help="file to write")
    made.add_argument("--json", action="store_true", help="print one JSON object")


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


def _count(text: str) -> int:
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= MOST_LABELS:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r}: allowed is 1 to {MOST_LABELS}")


def run(options: argparse.Namespace) -> int:
    """Write the sheets.

    :raises OutOfRange: the sheet cannot be printed, or a code is none.
    :raises NotKnown: a code is not on record.
    """
    sheet = _sheet(options)
    _, store = open_records(options)
    at = format_utc(datetime.now(UTC))
    _require(sheet, _named(store, options) or [BlankLabel("")])
    made = _named(store, options) or [
        BlankLabel(code) for code in labels.take(store, options.blank, "", at)
    ]
    options.output.write_bytes(render(made, sheet))
    codes, pages = [label.code for label in made], page_count(sheet, len(made))
    labels.mark_printed(store, codes, at)
    if options.json:
        print(json.dumps({"file": str(options.output), "pages": pages, "codes": codes}))
    else:
        print(f"{options.output}: labels {len(codes)}, pages {pages}; print at 100 %")
    return 0


def _sheet(options: argparse.Namespace) -> Sheet:
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


def _require(sheet: Sheet, made: Sequence[Label]) -> None:
    """Refuse a sheet by the option that is wrong, before anything is minted."""
    for problem in check(sheet, smallest(type(made[0]), sheet)):
        single = sheet.places == 1 and sheet.page_width_mm == sheet.label_width_mm
        option = "--roll" if single else _OPTIONS[problem.field]
        word = problem.field.removesuffix("_mm").replace("_", " ")
        allowed = f"{problem.low} to {problem.high}"
        raise OutOfRange(option, f"{word} {problem.value}", f"{word} {allowed}")


def _named(store: Store, options: argparse.Namespace) -> list[Label]:
    if options.cups:
        return _cups(store, _codes("--cups", options.cups))
    return _cans(store, _codes("--containers", options.containers or []))


def _codes(option: str, typed: Sequence[str]) -> list[str]:
    if len(typed) > MOST_LABELS:
        raise OutOfRange(option, f"{len(typed)} codes", f"at most {plain(MOST_LABELS)}")
    read = [forgive(text) for text in typed]
    for text, found in zip(typed, read, strict=True):
        if found.problem:
            near = f"; meant may be {' or '.join(found.proposals)}" if found.proposals else ""
            raise OutOfRange(option, text, f"a code of six characters{near}")
    return list(dict.fromkeys(found.code for found in read))


def _cups(store: Store, codes: Sequence[str]) -> list[Label]:
    planned = {plan.code: plan for plan in plans.every(store)}
    systems = {card.name: card for card in catalogue.every(store, SystemCard)}
    parts = {job.name: job.part for job in catalogue.every(store, Job)}
    made: list[Label] = []
    for code in codes:
        if code not in planned:
            raise NotKnown("--cups", code)
        plan = planned[code]
        job = (parts.get(plan.job, plan.job), plan.step)
        made.append(cup_label(code, systems.get(plan.system), plan.total, job, Words()))
    return made


def _cans(store: Store, codes: Sequence[str]) -> list[Label]:
    cans = {can.code: can for can in catalogue.latest(store, Container)}
    expires_on = {lot.code: lot.expires_on for lot in catalogue.latest(store, Lot)}
    made: list[Label] = []
    for code in codes:
        if code not in cans:
            raise NotKnown("--containers", code)
        can = cans[code]
        made.append(container_label(can, expires_on.get(can.lot, ""), Words()))
    return made
