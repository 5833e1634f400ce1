"""From display readings to pours.

The display runs on: each reading ends one pour and starts the next. A reading taken again stands
in the place of the one it refers to. A voided reading with no replacement merges its neighbours;
if they are of different parts, how much went into each is no longer known. A scale that was
restarted in the middle of a pour leaves the pour unfinished until its next reading.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from ..constants import LIMIT_GUARD, SAME_LOAD_STEPS
from ..numbers import is_wire_number
from ..rows import Row
from ..weighing import Pour

READING_KINDS = frozenset({"weighed", "rezeroed", "scale_restarted"})
#: The two parts whose masses make the ratio.
PARTS = ("a", "b")


@dataclass(frozen=True, slots=True)
class Readings:
    """The pours of a cup and where the display stands."""

    pours: tuple[Pour, ...] = ()
    cup_g: float | None = None
    display_g: float | None = None
    unknown: str = ""
    #: whether the next pour starts on a reading of its own (after a re-zero).
    opens: bool = True
    #: the last reading on the base the display has now; empty after a new base.
    last_id: str = ""
    last_component: str = ""


def unfinished_part(pours: Sequence[Pour]) -> str:
    """Part of the pour that is still going on after a restart; empty if none is."""
    if pours and pours[-1].unfinished and pours[-1].component in PARTS:
        return pours[-1].component
    return ""


def finished(pours: Sequence[Pour]) -> Sequence[Pour]:
    """The pours before the one that is still going on, however often it was interrupted."""
    part, end = unfinished_part(pours), len(pours)
    while part and end and pours[end - 1].unfinished and pours[end - 1].component == part:
        end -= 1
    return pours[:end]


def read(rows: Sequence[Row], voided: frozenset[str], step_g: float) -> Readings:
    """Work out the pours of one cup.

    :param rows: rows of the cup in chain order.
    :param voided: event ids of rows that were struck.
    :param step_g: display step of the scale, grams, > 0.
    :return: pours in grams, the display now, and why they are not known if they are not.
    """
    replacements = _replacements(rows, voided)
    tally = _Tally(step_g)
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
    step_g: float
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
            # Reading it again is what mends it.
            self.last_id, self.last_component = row.event_id, row.component
        elif row.kind != "weighed":
            self._fail("reading_missing")

    def take(self, row: Row, display_g: float, standing_id: str) -> None:
        # A reading on the base before can't be read again on this one.
        self.last_id, self.last_component = "", ""
        if row.kind == "weighed":
            self.last_id, self.last_component = standing_id, row.component
        if row.kind == "scale_restarted":
            self._restart(row, display_g)
        elif row.kind == "rezeroed":
            self._rebase(display_g)
        elif row.component == "cup":
            self._rebase(display_g)
            self.cup_g = display_g
        else:
            self._pour(row.component, display_g)

    def _rebase(self, display_g: float) -> None:
        """The display counts from here: what a lost reading ended can't be told any more."""
        if self.merged:
            self._fail("reading_missing")
        self.merged = set()
        self.before_g, self.opens = display_g, True

    def _pour(self, component: str, display_g: float) -> None:
        if self.before_g is None:
            self._fail("no_first_reading")
            self.before_g = 0.0
        if self.merged - {component}:
            self._fail("reading_missing")
        self.merged = set()
        net_g = _net(display_g - self.before_g)
        if net_g < 0:
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
        net_g = _net(gross_g - self.cup_g - content_g)
        # The cup is no part that could be poured.
        poured = "" if row.component == "cup" else row.component
        if poured or self.merged:
            component = poured or min(self.merged)
            if self.merged - {component} or net_g < 0:
                self._fail("reading_missing")
            self.pours.append(Pour(component, net_g, self.opens, bool(poured)))
        elif abs(net_g) > SAME_LOAD_STEPS * self.step_g + LIMIT_GUARD:
            self._fail("reading_missing")
        self.merged = set()
        self.before_g, self.opens = gross_g, not poured

    def _fail(self, reason: str) -> None:
        self.unknown = self.unknown or reason

    def result(self) -> Readings:
        poured = {pour.component for pour in self.pours if pour.net_g > 0}
        # Something was added to a cup that could be judged, and its reading was struck.
        if self.merged and {"a", "b"} <= poured:
            self._fail("reading_missing")
        return Readings(
            pours=tuple(self.pours),
            cup_g=self.cup_g,
            display_g=self.before_g,
            unknown=self.unknown,
            opens=self.opens,
            last_id=self.last_id,
            last_component=self.last_component,
        )


def _net(mass_g: float) -> float:
    """A difference of displays; far below any display step it is noise of binary fractions."""
    return 0.0 if abs(mass_g) <= LIMIT_GUARD else mass_g
