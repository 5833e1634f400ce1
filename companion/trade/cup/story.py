"""The story of a cup: what each of its rows did to the others.

Nothing in the log is edited, so a mistake and its mending are two rows. Told in order, a reading
may have been read again further down, struck further down, or be itself a correction.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ..rows import Row


@dataclass(frozen=True, slots=True)
class StoryLine:
    """One row in its place. Rows are numbered from 1; 0 means there is none.

    ``refers_to`` is the row this one speaks of, ``replaced_by`` the later reading that stands in
    its place, ``struck_by`` the row that voided it. ``correction`` marks a reading that ends an
    addition made after the cup could first be judged.
    """

    number: int
    row: Row
    refers_to: int = 0
    replaced_by: int = 0
    struck_by: int = 0
    struck_reason: str = ""
    correction: bool = False


def tell(ordered: Sequence[Row]) -> tuple[StoryLine, ...]:
    """Tell the rows of one cup.

    :param ordered: rows of one cup in the order of the chain.
    :return: one line per row.
    :source: design section 5; common practice, no source.
    """
    number = {row.event_id: place for place, row in enumerate(ordered, start=1)}
    struck = {row.refers_to: row for row in ordered if row.kind == "voided"}
    again = {
        row.refers_to: row
        for row in ordered
        if row.kind == "weighed" and row.refers_to and row.event_id not in struck
    }
    corrections = _corrections(ordered, frozenset(struck))
    lines = []
    for place, row in enumerate(ordered, start=1):
        strike, later = struck.get(row.event_id), again.get(row.event_id)
        lines.append(
            StoryLine(
                number=place,
                row=row,
                refers_to=number.get(row.refers_to, 0),
                replaced_by=number[later.event_id] if later else 0,
                struck_by=number[strike.event_id] if strike else 0,
                struck_reason=strike.note if strike else "",
                correction=row.event_id in corrections,
            )
        )
    return tuple(lines)


def _corrections(ordered: Sequence[Row], struck: frozenset[str]) -> frozenset[str]:
    poured: set[str] = set()
    found = set()
    for row in ordered:
        if row.kind != "weighed" or row.refers_to or row.event_id in struck:
            continue
        if {"a", "b"} <= poured and row.component in ("a", "b"):
            found.add(row.event_id)
        poured.add(row.component)
    return frozenset(found)
