"""Headings and words of the tables that go into a person's spreadsheet."""

from collections.abc import Sequence

from ...records.tables import COLUMNS, Speech
from . import words
from .phrases import _
from .shop import Shop


def headings(table: str) -> Sequence[str]:
    """Heading of each column."""
    said = {
        "cup": _("Cup"),
        "started": _("Started"),
        "job": _("Job"),
        "part": _("Part"),
        "step": _("Step"),
        "system": _("System"),
        "scale": _("Scale"),
        "person": _("Person"),
        "planned_g": _("Planned total, g"),
        "empty_cup_g": _("Empty cup, g"),
        "part_a_g": _("Part A, g"),
        "part_b_g": _("Part B, g"),
        "total_g": _("Total in the cup, g"),
        "ratio_error_pct": _("Ratio error, per cent"),
        "uncertainty_pct": _("Uncertainty, per cent"),
        "verdict": _("Verdict"),
        "state": _("State"),
        "lots_a": _("Lots of part A"),
        "lots_b": _("Lots of part B"),
        "poured": _("Poured into"),
        "flags": _("To look at"),
        "number": _("Number"),
        "time": _("Time"),
        "what": _("What"),
        "component": _("Component"),
        "value": _("Value"),
        "unit": _("Unit"),
        "asked": _("Asked for"),
        "shown": _("Shown"),
        "typed": _("Typed"),
        "lot": _("Lot"),
        "container": _("Container"),
        "struck": _("Struck or replaced"),
        "note": _("Note"),
    }
    return [said[name] for name in COLUMNS[table]]


def speech(shop: Shop) -> Speech:
    """Words for the codes of the records."""
    return Speech(
        verdict=words.verdict,
        outcome=words.outcome,
        state=words.state,
        row=words.kind,
        component=words.component,
        flag=words.flag,
        struck=_struck,
        part=shop.part,
        person=shop.person,
    )


def _struck(code: str) -> str:
    return _("struck") if code == "struck" else _("replaced")
