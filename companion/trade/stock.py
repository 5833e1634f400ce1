"""What is left in a can: what it held when it was opened, less what cups drew, checked by weighing.

A cup draws from the can its ``lot_used`` row names, until a later row of that component names
another. Where the can was changed and no reading stands between the two rows, the share of each is
not known: all of it counts to the later can, and both are flagged. A can that was weighed holds
what the scale said, less what was drawn afterwards; what the opened mass does not explain is told.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .chain import in_order
from .constants import LIMIT_GUARD
from .cup import Cup
from .cup.readings import read
from .rows import Row, voided_ids
from .weighing import net_of

# Part of the opened mass that may go unaccounted for; common practice, no source.
UNACCOUNTED_TO_FLAG = 0.05
# Part of the opened mass below which a can is nearly empty; common practice, no source.
NEARLY_EMPTY = 0.10


@dataclass(frozen=True, slots=True)
class Draw:
    """What one cup took of one component.

    :ivar container: code of the can; empty where none is on record.
    :ivar at: when the can was taken, RFC 3339.
    :ivar doubts: ``share_unknown`` where the can was changed between two readings,
        ``readings_missing`` where the readings of the cup are not whole.
    """

    container: str
    component: str
    at: str
    net_g: float
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Weighing:
    """A can on a scale: when (RFC 3339), and its gross mass."""

    at: str
    gross_g: float


@dataclass(frozen=True, slots=True)
class Can:
    """What a can held when it was opened, and its empty mass; None where nobody weighed it."""

    content_g: float | None
    empty_g: float | None


@dataclass(frozen=True, slots=True)
class CanStock:
    """Stock of one can, grams; None where it cannot be told.

    :ivar weighed_g: rest found by the last weighing.
    :ivar unaccounted_g: opened mass less what was drawn until then and the rest found.
    :ivar flags: what a person should look at: doubts of its draws, ``unaccounted``, ``negative``,
        ``nearly_empty``, ``empty_mass_missing``.
    """

    drawn_g: float
    rest_g: float | None
    weighed_g: float | None = None
    weighed_at: str = ""
    unaccounted_g: float | None = None
    unaccounted: float | None = None
    flags: tuple[str, ...] = ()


def draws(rows: Iterable[Row], cup: Cup, step_g: float) -> tuple[Draw, ...]:
    """What one cup drew from which can.

    :param rows: every row of the cup, any order.
    :param cup: the same cup, folded.
    :param step_g: display step of its scale, grams, > 0.
    :return: per component and can, in the order of the pours; masses unrounded.
    :source: difference of readings; where a can changes between readings, the module's rule.
    """
    ordered = in_order(rows)
    missing = ("readings_missing",) if cup.unknown or "double_fill" in cup.flags else ()
    components = dict.fromkeys(pour.component for pour in cup.pours)
    return tuple(
        draw
        for component in components
        for draw in _of_component(ordered, cup, component, step_g, missing)
    )


def _of_component(
    ordered: Sequence[Row], cup: Cup, component: str, step_g: float, missing: tuple[str, ...]
) -> list[Draw]:
    voided = voided_ids(ordered)
    used = [
        (place, row)
        for place, row in enumerate(ordered)
        if row.kind == "lot_used" and row.component == component and row.event_id not in voided
    ]
    total_g = net_of(cup.pours, component)
    if not used:
        return [Draw("", component, cup.started_at, total_g, missing)]
    # What was poured before the first can was named is counted to it.
    starts_g = [0.0, *(_poured_g(ordered, place, component, step_g) for place, _ in used[1:])]
    ends_g = [*starts_g[1:], total_g]
    found: list[Draw] = []
    carried = False
    for number, (_, row) in enumerate(used):
        net_g = ends_g[number] - starts_g[number]
        is_last = number == len(used) - 1
        same_next = not is_last and used[number + 1][1].container == row.container
        gives_up = not is_last and not same_next and net_g <= LIMIT_GUARD
        doubts = (*missing, *(("share_unknown",) if gives_up or carried else ()))
        carried = gives_up
        found.append(Draw(row.container, component, row.recorded_at, net_g, doubts))
    return found


def _poured_g(ordered: Sequence[Row], place: int, component: str, step_g: float) -> float:
    """Net mass of a component by the readings that stand before a row."""
    # A reading taken again later still stands in the place of its first.
    before = [
        row
        for index, row in enumerate(ordered)
        if index < place or (row.kind == "weighed" and row.refers_to)
    ]
    return net_of(read(before, voided_ids(ordered), step_g).pours, component)


def can_stock(can: Can, drawn: Sequence[Draw], weighings: Sequence[Weighing]) -> CanStock:
    """Fold the stock of one can.

    :param can: what its card says.
    :param drawn: what cups drew from it, any order.
    :param weighings: when it was weighed, any order; the last one counts.
    :return: rest and balance, grams, unrounded.
    :source: mass balance F13: opened - drawn - weighed rest = unaccounted, flagged above 5 % of the
        opened mass or below zero (common practice, no source); T9 in tests/cases/stock.json.
    """
    last = max(weighings, key=lambda one: one.at, default=None)
    total_g = _sum_g(drawn)
    weighed_g = after_g = left_over_g = None
    if last is not None and can.empty_g is not None:
        weighed_g = last.gross_g - can.empty_g
        after_g = _sum_g([draw for draw in drawn if draw.at > last.at])
        if can.content_g is not None:
            left_over_g = can.content_g - (total_g - after_g) - weighed_g
    rest_g = _rest_g(can, total_g, weighed_g, after_g)
    share = None if left_over_g is None or not can.content_g else left_over_g / can.content_g
    doubts = dict.fromkeys(doubt for draw in drawn for doubt in draw.doubts)
    return CanStock(
        drawn_g=total_g,
        rest_g=rest_g,
        weighed_g=weighed_g,
        weighed_at=last.at if last and weighed_g is not None else "",
        unaccounted_g=left_over_g,
        unaccounted=share,
        flags=(*doubts, *_flags(can, rest_g, left_over_g, bool(weighings))),
    )


def _rest_g(
    can: Can, total_g: float, weighed_g: float | None, after_g: float | None
) -> float | None:
    if weighed_g is not None and after_g is not None:
        return weighed_g - after_g
    return None if can.content_g is None else can.content_g - total_g


def _flags(
    can: Can, rest_g: float | None, left_over_g: float | None, was_weighed: bool
) -> tuple[str, ...]:
    opened_g = can.content_g or 0.0
    left_g, lost_g = rest_g or 0.0, left_over_g or 0.0
    flags = {
        "unaccounted": lost_g > UNACCOUNTED_TO_FLAG * opened_g + LIMIT_GUARD and opened_g > 0,
        "negative": min(left_g, lost_g) < -LIMIT_GUARD,
        "nearly_empty": rest_g is not None and 0 < opened_g and left_g < NEARLY_EMPTY * opened_g,
        "empty_mass_missing": was_weighed and can.empty_g is None,
    }
    return tuple(name for name, raised in flags.items() if raised)


def _sum_g(drawn: Iterable[Draw]) -> float:
    total_g = 0.0
    for draw in drawn:
        total_g += draw.net_g
    return total_g
