"""Codes: minted here, each given out once."""

import secrets
from collections.abc import Sequence

from sqlalchemy import Connection, delete, exists, insert, select

from ..trade.codes import ALPHABET, PAYLOAD_LENGTH, mint
from .schema import cards, codes, parts, planned_cups, printed_labels, rows
from .store import Store

BLOCK = 500
REFILL_BELOW = 200


def take(store: Store, count: int, given_to: str, minted_at: str) -> list[str]:
    """Mint codes for one log ("" for the office) that no one else will ever get."""
    with store.write() as connection:
        return take_codes(connection, count, given_to, minted_at)


def take_codes(connection: Connection, count: int, given_to: str, minted_at: str) -> list[str]:
    """Mint codes inside a running transaction."""
    fresh: set[str] = set()
    while len(fresh) < count:
        drawn = {code for code in (_draw() for _ in range(count - len(fresh))) if code}
        # A cup may carry a code that restored records never minted.
        for column in (codes.c.code, rows.c.cup):
            drawn -= set(connection.scalars(select(column).where(column.in_(drawn))))
        fresh |= drawn
    chosen = sorted(fresh)
    connection.execute(
        insert(codes),
        [{"code": code, "given_to": given_to, "minted_at": minted_at} for code in chosen],
    )
    return chosen


def reserve(connection: Connection, given: list[str], minted_at: str) -> None:
    """Keep codes that were printed elsewhere from ever being minted."""
    connection.execute(
        insert(codes), [{"code": code, "given_to": "", "minted_at": minted_at} for code in given]
    )


def mark_printed(store: Store, made: Sequence[str], at: str) -> None:
    """Remember that labels of these codes were made; the last time counts."""
    with store.write() as connection:
        connection.execute(delete(printed_labels).where(printed_labels.c.code.in_(made)))
        connection.execute(
            insert(printed_labels), [{"code": code, "printed_at": at} for code in set(made)]
        )


def printed(store: Store) -> dict[str, str]:
    """When the label of each code was made last."""
    with store.read() as connection:
        return {code: at for code, at in connection.execute(select(printed_labels))}


def blank(store: Store) -> list[str]:
    """Codes of labels that were printed ahead and are bound to nothing yet, in order.

    Minted for the office, made as a label, and neither a planned cup, a container, a part, nor the
    cup of any row.
    """
    bound = (planned_cups.c.code, parts.c.code, rows.c.cup)
    query = select(printed_labels.c.code).join(codes, codes.c.code == printed_labels.c.code)
    query = query.where(codes.c.given_to == "")
    for column in bound:
        query = query.where(~exists().where(column == printed_labels.c.code))
    can = (cards.c.kind == "container") & (cards.c.code == printed_labels.c.code)
    query = query.where(~exists().where(can)).order_by(printed_labels.c.code)
    with store.read() as connection:
        return list(connection.scalars(query))


def _draw() -> str | None:
    return mint([secrets.randbelow(len(ALPHABET)) for _ in range(PAYLOAD_LENGTH)])
