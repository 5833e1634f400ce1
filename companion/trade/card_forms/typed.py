"""Typed text of a form, read field by field; what is wrong is said with the value and the limits.

Figures may have a comma or a point. An empty field is a figure that is not on the sheet.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from ..numbers import fixed, parse_entry

LONGEST_CODE = 40
LONGEST_TEXT = 120
#: Prefix of the fields that say where a figure comes from.
SOURCE = "source_"
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}\Z")


@dataclass(frozen=True, slots=True)
class CardProblem:
    """What is wrong with one field: the text given, and the limits it breaks, as text."""

    field: str
    problem: str
    value: str = ""
    low: str = ""
    high: str = ""


@dataclass(frozen=True, slots=True)
class Span:
    """Lowest and highest figure a field takes, both inclusive."""

    low: float
    high: float


@dataclass(slots=True)
class Reader:
    """Reads the fields of one form and collects what is wrong, one problem a field."""

    typed: Mapping[str, str]
    spans: Mapping[str, Span]
    found: dict[str, CardProblem] = field(default_factory=dict)

    def raw(self, name: str) -> str:
        """What was typed, without the space around it."""
        return self.typed.get(name, "").strip()

    def refuse(self, name: str, problem: str, low: str = "", high: str = "") -> None:
        """Note a problem; the first one of a field is told."""
        self.found.setdefault(name, CardProblem(name, problem, self.raw(name), low, high))

    def text(self, name: str, *, needed: bool = False, most: int = LONGEST_TEXT) -> str:
        """A text on one line that can be seen and printed."""
        text = self.raw(name)
        if needed and not text:
            self.refuse(name, "empty")
        if len(text) > most:
            self.refuse(name, "too_long", high=str(most))
        if not text.isprintable():
            self.refuse(name, "control")
        return text

    def code(self, name: str = "code") -> str:
        """A name that stands in the log: printable, and without the mark of a revision."""
        text = self.text(name, needed=True, most=LONGEST_CODE)
        if "@" in text:
            self.refuse(name, "revision_mark")
        return text

    def figure(self, name: str, *, needed: bool = False) -> float | None:
        """A figure inside the span of its field; None where the field is empty or wrong."""
        typed = self.raw(name)
        span = self.spans[name]
        low, high = plain(span.low), plain(span.high)
        if not typed:
            if needed:
                self.refuse(name, "empty")
            return None
        entry = parse_entry(typed)
        if entry.problem:
            self.refuse(name, entry.problem, low, high)
            return None
        if not span.low <= entry.number <= span.high:
            self.refuse(name, "range", low, high)
            return None
        return entry.number

    def whole(self, name: str) -> int | None:
        """A whole number inside the span of its field."""
        number = self.figure(name, needed=True)
        if number is not None and number != int(number):
            self.refuse(name, "whole")
            return None
        return None if number is None else int(number)

    def group(self, *names: str) -> tuple[float, ...] | None:
        """Figures that only count together: all of them, or None."""
        if not any(self.raw(name) for name in names):
            return None
        for name in names:
            if not self.raw(name):
                self.refuse(name, "belongs_together")
        figures = [self.figure(name) for name in names]
        known = [number for number in figures if number is not None]
        return tuple(known) if len(known) == len(names) else None

    def day(self, name: str) -> str:
        """A day of the calendar, ISO 8601; empty if none was typed."""
        text = self.raw(name)
        if text and not _is_day(text):
            self.refuse(name, "day")
        return text

    def sources(self, names: tuple[str, ...], before: Mapping[str, str]) -> dict[str, str]:
        """Where each figure comes from; what the form does not ask for is kept as it was."""
        kept = {name: text for name, text in before.items() if name not in names}
        typed = {name: self.text(SOURCE + name) for name in names}
        return {**kept, **{name: text for name, text in typed.items() if text}}


def _is_day(text: str) -> bool:
    try:
        return _DAY.match(text) is not None and bool(date.fromisoformat(text))
    except ValueError:
        return False


def plain(value: float | None) -> str:
    """A figure of a card as a person types it: a point, no zeros that say nothing."""
    if value is None:
        return ""
    text = fixed(value, 6)
    return text.rstrip("0").rstrip(".")


def write_sources(names: tuple[str, ...], sources: Mapping[str, str]) -> dict[str, str]:
    """Sources of a card as the fields of its form."""
    return {SOURCE + name: sources.get(name, "") for name in names}
