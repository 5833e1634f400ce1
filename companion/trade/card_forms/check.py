"""The form of a scale check: which scale, which weight, what the display shows, who."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from ..cards import ScaleCard
from ..numbers import parse_entry
from ..scale_check import CLASSES, NOMINALS_G
from .typed import CardProblem, Reader, Span, plain

FIELDS = ("scale", "weight_g", "weight_class", "display_g", "person")
_NO_SPAN = Span(0, 9_999_999)


@dataclass(frozen=True, slots=True)
class CheckedCheck:
    """A check ready to be written, its figures as text with a point, or its problems."""

    problems: tuple[CardProblem, ...] = ()
    scale: str = ""
    weight: str = ""
    weight_class: str = ""
    display: str = ""
    person: str = ""


def read_check(
    typed: Mapping[str, str], scales: Mapping[str, ScaleCard], people: Collection[str]
) -> CheckedCheck:
    """Read a check as typed.

    :param scales: the newest scales by code.
    :param people: codes of those who can be chosen.
    :return: the check, or every problem at once.
    """
    card = scales.get(typed.get("scale", "").strip())
    highest_g = card.capacity_g if card else _NO_SPAN.high
    reader = Reader(typed, {"display_g": Span(0, highest_g)})
    if card is None:
        reader.refuse("scale", "unknown" if reader.raw("scale") else "empty")
    _read_weight(reader, highest_g)
    if reader.raw("weight_class") and reader.raw("weight_class") not in CLASSES:
        reader.refuse("weight_class", "unknown")
    display = _read_display(reader, card)
    if reader.raw("person") not in people:
        reader.refuse("person", "unknown" if reader.raw("person") else "empty")
    if reader.found or card is None:
        return CheckedCheck(tuple(reader.found.values()))
    return CheckedCheck(
        scale=card.name,
        weight=reader.raw("weight_g"),
        weight_class=reader.raw("weight_class"),
        display=display,
        person=reader.raw("person"),
    )


def _read_weight(reader: Reader, highest_g: float) -> None:
    weight = reader.raw("weight_g")
    if weight not in map(str, NOMINALS_G):
        reader.refuse("weight_g", "unknown" if weight else "empty")
    elif int(weight) > highest_g:
        reader.refuse("weight_g", "above", high=plain(highest_g))


def _read_display(reader: Reader, card: ScaleCard | None) -> str:
    """The display as text; its decimals are those of the scale, else it is of another one."""
    reader.figure("display_g", needed=True)
    entry = parse_entry(reader.raw("display_g"))
    if card and not entry.problem and entry.decimals != card.decimals:
        reader.refuse("display_g", "decimals", card.readability, card.code)
    return entry.value
