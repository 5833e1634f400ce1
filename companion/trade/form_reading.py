"""Reading the fields of a form: figures within bounds, choices of a list, short texts.

Every problem is kept by its field, so that all of them are told at once.
"""

import re
from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import date, timedelta

from .numbers import Entry, parse_entry

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}\Z")
_FIRST_DAY = "2000-01-01"
_MINUS = "-\u2212"


@dataclass(frozen=True, slots=True)
class Bounds:
    """Smallest and largest figure a field takes, as text.

    :ivar needed: whether the field may not be left empty.
    """

    low: str
    high: str
    needed: bool = True


@dataclass(frozen=True, slots=True)
class FieldProblem:
    """What is wrong with one field: the text given, and what is allowed.

    :ivar problem: ``empty``, ``separators``, ``character``, ``long``, ``range``, ``whole``,
        ``unknown``, ``text`` or a name of the form's own.
    :ivar low: smallest figure allowed, text; likewise ``high``.
    :ivar allowed: names that can be chosen, or whose limit it is.
    """

    field: str
    problem: str
    value: str
    low: str = ""
    high: str = ""
    allowed: str = ""


@dataclass(slots=True)
class Reading:
    """Reads one form and gathers what is wrong with it.

    :ivar exact: the figures are written by a program, with all their digits, not typed.
    """

    exact: bool = False
    problems: list[FieldProblem] = field(default_factory=list)

    def figure(self, name: str, typed: str, bounds: Bounds) -> str:
        """A figure as text with a point and its sign; empty if it was left out or is wrong."""
        text = typed.strip()
        if not text and not bounds.needed:
            return ""
        sign = "-" if text[:1] and text[0] in _MINUS else ""
        digits = text[1:] if sign else text
        entry = Entry(digits) if self.exact else parse_entry(digits)
        if entry.problem:
            self._add(name, entry.problem, text, bounds)
            return ""
        value = sign + entry.value
        if not float(bounds.low) <= float(value) <= float(bounds.high):
            self._add(name, "range", text, bounds)
            return ""
        return value

    def number(self, name: str, typed: str, bounds: Bounds) -> float | None:
        """A figure as a number; None where ``figure`` gives no text."""
        text = self.figure(name, typed, bounds)
        return float(text) if text else None

    def whole(self, name: str, typed: str, bounds: Bounds) -> int | None:
        """A whole number."""
        text = self.figure(name, typed, bounds)
        if text and "." in text:
            self._add(name, "whole", typed.strip(), bounds)
            return None
        return int(text) if text else None

    def choice(
        self, name: str, chosen: str, known: Collection[str], *, needed: bool = False
    ) -> str:
        """One of a list, or nothing where nothing is needed."""
        if (chosen and chosen in known) or not (chosen or needed):
            return chosen
        problem = "unknown" if chosen else "empty_choice"
        self.problems.append(FieldProblem(name, problem, chosen, allowed=", ".join(sorted(known))))
        return ""

    def text(self, name: str, typed: str, longest: int) -> str:
        """A short text that can be printed, without the space around it."""
        text = typed.strip()
        if not 1 <= len(text) <= longest or not text.isprintable():
            self.problems.append(FieldProblem(name, "text", text, "1", str(longest)))
        return text

    def day(self, name: str, typed: str, today: str) -> str:
        """A day, ISO 8601; the present one where nothing was typed.

        :param today: in UTC; east of it the next day may have begun.
        """
        text = typed.strip() or today
        latest = (date.fromisoformat(today) + timedelta(days=1)).isoformat()
        if not _is_day(text) or not _FIRST_DAY <= text <= latest:
            self.problems.append(FieldProblem(name, "day", text, _FIRST_DAY, latest))
        return text

    def _add(self, name: str, problem: str, value: str, bounds: Bounds) -> None:
        self.problems.append(FieldProblem(name, problem, value, bounds.low, bounds.high))


def _is_day(text: str) -> bool:
    try:
        return _DAY.match(text) is not None and bool(date.fromisoformat(text))
    except ValueError:
        return False
