"""The forms of weighing a can, and of striking a weighing that was wrong."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from ..cards import Container
from ..numbers import parse_entry
from .bought import CAN_SPANS, LONGEST_REASON
from .typed import CardProblem, Reader, Span, plain

#: What a can may weigh beyond its content and its own mass; common practice, no source.
OVERWEIGHT = 1.05


@dataclass(frozen=True, slots=True)
class CheckedCanWeighing:
    """A weighed can ready to be written, its figure as text with a point, or its problems."""

    problems: tuple[CardProblem, ...] = ()
    gross: str = ""
    person: str = ""


def read_can_weighing(
    typed: Mapping[str, str], can: Container, people: Collection[str]
) -> CheckedCanWeighing:
    """Read the weighing of a can with its lid.

    :param can: it weighs no less than when it is empty, and hardly more than when it was full.
    :param people: codes of those who can be chosen.
    """
    highest = CAN_SPANS["content_g"].high + CAN_SPANS["empty_g"].high
    reader = Reader(typed, {"gross_g": Span(can.empty_g or 0.1, highest)})
    gross_g = reader.figure("gross_g", needed=True)
    full_g = _full_g(can)
    if gross_g is not None and full_g is not None and gross_g > full_g:
        tenth_g = gross_g / 10
        is_slip = (can.empty_g or 0.0) <= tenth_g <= full_g
        reader.refuse("gross_g", "ten_fold" if is_slip else "above", plain(tenth_g), plain(full_g))
    if reader.raw("weighed_by") not in people:
        reader.refuse("weighed_by", "unknown" if reader.raw("weighed_by") else "empty")
    if reader.found:
        return CheckedCanWeighing(tuple(reader.found.values()))
    return CheckedCanWeighing(
        (), parse_entry(reader.raw("gross_g")).value, reader.raw("weighed_by")
    )


def _full_g(can: Container) -> float | None:
    """Most a can weighs, grams; None where its card does not tell both masses."""
    if can.content_g is None or can.empty_g is None:
        return None
    return (can.content_g + can.empty_g) * OVERWEIGHT


@dataclass(frozen=True, slots=True)
class CheckedStrike:
    """A weighing to be struck, by the id of its row, or the problems."""

    problems: tuple[CardProblem, ...] = ()
    weighing: str = ""
    reason: str = ""
    person: str = ""


def read_strike(
    typed: Mapping[str, str], standing: Collection[str], people: Collection[str]
) -> CheckedStrike:
    """Read which weighing is struck, why, and by whom.

    :param standing: ids of the weighings of the can that were not struck yet.
    """
    reader = Reader(typed, {})
    for name, known in (("weighing", standing), ("struck_by", people)):
        if reader.raw(name) not in known:
            reader.refuse(name, "unknown" if reader.raw(name) else "empty")
    reason = reader.text("why_struck", needed=True, most=LONGEST_REASON)
    if reader.found:
        order = ("weighing", "why_struck", "struck_by")
        return CheckedStrike(tuple(reader.found[name] for name in order if name in reader.found))
    return CheckedStrike((), reader.raw("weighing"), reason, reader.raw("struck_by"))
