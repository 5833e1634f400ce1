"""From display readings to pours.

The display runs on: each reading ends one pour and starts the next. A reading taken again stands
in the place of the one it refers to. A voided reading with no replacement merges its neighbours;
if they are of different parts, how much went into each is no longer known.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from ..constants import LIMIT_GUARD
from ..numbers import is_wire_number
from ..rows import Row
from ..weighing import Pour

READING_KINDS = frozenset({"weighed", "rezeroed", "scale_restarted"})


@dataclass(frozen=True, slots=True)
class Readings:
    """The pours of a cup and where the display stands."""

    pours: tuple[Pour, ...] = ()
    cup_g: float | None = None
    display_g: float | None = None
    unknown: str = ""
    #: whether the next pour starts on a reading of its own (after a re-zero).
    opens: bool = True
    last_id: str = ""
    last_component: str = ""


def read(rows: Sequence[Row], voided: frozenset[str]) -> Readings:
    """Work out the pours of one cup.

    :param rows: rows of the cup in chain order.
    :param voided: event ids of rows that were struck.
    :return: pours in grams, the display now, and why they are not known if they are not.
    """
    replacements = _replacements(rows, voided)
    tally = _Tally()
    for row in rows:
        if row.kind not in READING_KINDS or (row.kind == "weighed" and row.refers_to):
            continue
        standing = replacements.get(row.event_id) or (
            None if row.event_id in voided else (row.event_id, row.value)
        )
        if standing is None or not is_wire_number(standing[1]):
            tally.miss(row)
        else:
            tally.take(row, float(standing[1]), standing[0])
    return tally.result()


def _replacements(rows: Sequence[Row], voided: frozenset[str]) -> dict[str, tuple[str, str]]:
    """Standing reading of each that was read again: first event id -> (event id, value)."""
    first: dict[str, str] = {}
    latest: dict[str, tuple[str, str]] = {}
    for row in rows:
        if row.kind == "weighed" and row.refers_to:
            root = first.get(row.refers_to, row.refers_to)
            first[row.event_id] = root
            if row.event_id not in voided and is_wire_number(row.value):
                latest[root] = (row.event_id, row.value)
    return latest


@dataclass(slots=True)
class _Tally:
    pours: list[Pour] = field(default_factory=list)
    cup_g: float | None = None
    before_g: float | None = None
    opens: bool = True
    merged: set[str] = field(default_factory=set)
    unknown: str = ""
    last_id: str = ""
    last_component: str = ""

    def miss(self, row: Row) -> None:
        """A reading that is gone: what it ended runs on into the next pour."""
        if row.kind == "weighed" and row.component != "cup":
            self.merged.add(row.component)
        elif row.kind != "weighed":
            self._fail("reading_missing")

    def take(self, row: Row, display_g: float, standing_id: str) -> None:
        if row.kind == "weighed":
            self.last_id, self.last_component = standing_id, row.component
        if row.kind == "rezeroed":
            self.before_g, self.opens = display_g, True
        elif row.kind == "scale_restarted":
            self._restart(row, display_g)
        elif row.component == "cup":
            self.cup_g = self.before_g = display_g
            self.opens = True
        else:
            self._pour(row.component, display_g)

    def _pour(self, component: str, display_g: float) -> None:
        if self.before_g is None:
            self._fail("no_first_reading")
            self.before_g = 0.0
        if self.merged - {component}:
            self._fail("reading_missing")
        self.merged = set()
        net_g = display_g - self.before_g
        if net_g < -LIMIT_GUARD:
            self._fail("falling_reading")
        self.pours.append(Pour(component, net_g, self.opens))
        self.before_g, self.opens = display_g, False

    def _restart(self, row: Row, gross_g: float) -> None:
        """The scale came back from zero: what it shows is cup and content."""
        if not self.cup_g:
            self._fail("restart_without_cup")
            return
        content_g = 0.0
        for pour in self.pours:
            content_g += pour.net_g
        net_g = gross_g - self.cup_g - content_g
        if row.component in ("a", "b") or self.merged:
            component = row.component or next(iter(self.merged))
            if self.merged - {component} or net_g < -LIMIT_GUARD:
                self._fail("reading_missing")
            self.pours.append(Pour(component, net_g, self.opens))
        self.merged = set()
        self.before_g, self.opens = gross_g, not row.component

    def _fail(self, reason: str) -> None:
        self.unknown = self.unknown or reason

    def result(self) -> Readings:
        return Readings(
            pours=tuple(self.pours),
            cup_g=self.cup_g,
            display_g=self.before_g,
            unknown=self.unknown,
            opens=self.opens,
            last_id=self.last_id,
            last_component=self.last_component,
        )
