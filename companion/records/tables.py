"""The records as tables a person reads: cups, one a line, and every row of them."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import timedelta

from ..trade.cup import Cup
from ..trade.cup.story import tell
from ..trade.errors import OutOfRange
from ..trade.numbers import fixed, is_wire_number
from ..trade.rows import Row
from ..trade.times import parse_utc
from ..wire.people_csv import Cell, Figure, Moment
from .aside import SETTLED
from .lineage import lots_used
from .trace import CupStory

CUPS, READINGS = "cups", "readings"
COLUMNS: Mapping[str, tuple[str, ...]] = {
    CUPS: (
        *("cup", "started", "job", "part", "step", "system", "scale", "person", "planned_g"),
        *("empty_cup_g", "part_a_g", "part_b_g", "total_g", "ratio_error_pct"),
        *("uncertainty_pct", "verdict", "state", "lots_a", "lots_b", "poured", "flags"),
    ),
    READINGS: (
        *("cup", "number", "time", "what", "component", "value", "unit", "asked", "shown"),
        *("typed", "lot", "container", "scale", "person", "struck", "note"),
    ),
}
_SHARE_DECIMALS = 2
#: Kinds whose target is no display: a label, the digest of a text.
_NO_TARGET = ("labelled", SETTLED)


def _as_recorded(code: str) -> str:
    return code.replace("_", " ")


def _row_as_recorded(kind: str, _component: str) -> str:
    return _as_recorded(kind)


def _state_as_recorded(cup: Cup) -> str:
    return _as_recorded(cup.state)


@dataclass(frozen=True, slots=True)
class Speech:
    """What codes of the records are called; as they were recorded, where nothing is said.

    :ivar row: what a row reports, by its kind and component.
    :ivar struck: ``struck`` or ``replaced``.
    :ivar part: part a job makes.
    """

    verdict: Callable[[str], str] = _as_recorded
    outcome: Callable[[str], str] = _as_recorded
    state: Callable[[Cup], str] = _state_as_recorded
    row: Callable[[str, str], str] = _row_as_recorded
    component: Callable[[str], str] = _as_recorded
    flag: Callable[[str], str] = _as_recorded
    struck: Callable[[str], str] = _as_recorded
    part: Callable[[str], str] = str
    person: Callable[[str], str] = str


def table(name: str, stories: Iterable[CupStory], speech: Speech) -> Iterator[tuple[Cell, ...]]:
    """Lines of one table, in the order of ``COLUMNS[name]``.

    :raises OutOfRange: there is no such table.
    """
    if name not in COLUMNS:
        raise OutOfRange("table", name, " or ".join(COLUMNS))
    for story in stories:
        yield from [_cup(story, speech)] if name == CUPS else _readings(story, speech)


def _cup(story: CupStory, speech: Speech) -> tuple[Cell, ...]:
    first = story.rows[0]
    used = lots_used(story)
    head: tuple[Cell, ...] = (
        story.code,
        _local(first),
        first.job,
        speech.part(first.job),
        first.step,
        first.system,
        first.scale,
        speech.person(first.person),
        Figure(first.value if first.kind == "cup_started" and is_wire_number(first.value) else ""),
    )
    lots = tuple(", ".join(u.lot for u in used if u.component == part and u.lot) for part in "ab")
    return (*head, *_folded(story, speech), *lots, *_course(story, speech))


def _folded(story: CupStory, speech: Speech) -> tuple[Cell, ...]:
    """Masses and verdict; empty where the cards of the cup are not here."""
    cup, scale = story.cup, story.scale
    if cup is None or scale is None:
        return (*(Figure("") for _ in range(6)), "", "")
    masses = (cup.cup_g, cup.part_a_g or None, cup.part_b_g or None, cup.total_g or None)
    shares = (cup.ratio_error, cup.uncertainty)
    verdict = "unknown" if cup.unknown else str(cup.verdict or "")
    return (
        *(Figure("" if mass_g is None else fixed(mass_g, scale.decimals)) for mass_g in masses),
        *(Figure("" if one is None else fixed(one * 100, _SHARE_DECIMALS)) for one in shares),
        speech.verdict(verdict) if verdict else "",
        speech.state(cup),
    )


def _course(story: CupStory, speech: Speech) -> tuple[Cell, ...]:
    cup = story.cup
    if cup is None:
        return "", ""
    uses = (" ".join(filter(None, (speech.part(use.job), use.step))) for use in cup.uses)
    return ", ".join(uses), " ".join(speech.flag(flag) for flag in cup.flags)


def _readings(story: CupStory, speech: Speech) -> Iterator[tuple[Cell, ...]]:
    for line in tell(story.rows):
        row = line.row
        struck = "struck" if line.struck_by else "replaced" if line.replaced_by else ""
        yield (
            story.code,
            Figure(str(line.number)),
            _local(row),
            speech.row(row.kind, row.component),
            speech.component(row.component) if row.component else "",
            _figure(row.value),
            row.unit,
            _figure(row.target) if row.kind not in _NO_TARGET else "",
            _shown(row, speech),
            row.typed,
            row.lot,
            row.container,
            row.scale,
            speech.person(row.person),
            speech.struck(struck) if struck else "",
            row.note,
        )


def _shown(row: Row, speech: Speech) -> str:
    if not row.shown:
        return ""
    return (speech.outcome if row.kind == SETTLED else speech.verdict)(row.shown)


def _figure(text: str) -> Cell:
    return Figure(text) if is_wire_number(text) else text


def _local(row: Row) -> Moment:
    try:
        moment = parse_utc(row.recorded_at) + timedelta(minutes=int(row.utc_offset_min))
    except (OutOfRange, ValueError, OverflowError):
        return Moment("")
    return Moment(moment.replace(tzinfo=None).isoformat(sep=" ", timespec="seconds"))
