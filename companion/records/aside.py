"""Rows set aside: for a person to look at, with their raw text, and what was decided.

A decision is a row of the office's own log (``aside_settled``: ``target`` the digest of the raw
text, ``shown`` the outcome, ``note`` the reason). The raw text stays for good.
"""

from dataclasses import dataclass, replace

from sqlalchemy import Connection, select

from ..errors import NotKnown
from .schema import rows, server
from .schema import strays as table
from .store import Store

SETTLED = "aside_settled"
#: A number no database counts to.
_LARGEST_NUMBER = 2**63 - 1
LEFT_OUT, TAKEN_IN = "left_out", "taken_in"


@dataclass(frozen=True, slots=True)
class Decision:
    """What was decided of a row, by whom, when and why."""

    outcome: str
    person: str
    reason: str
    at: str


@dataclass(frozen=True, slots=True)
class Stray:
    """A row set aside for a person to look at; ``decision`` is None while it waits."""

    number: int
    log_id: str
    seq: int | None
    status: str
    reason: str
    raw: str
    header: str
    raw_sha256: str
    received_at: str
    decision: Decision | None = None


_SHOWN = (
    table.c.number,
    table.c.log_id,
    table.c.seq,
    table.c.status,
    table.c.reason,
    table.c.raw,
    table.c.header,
    table.c.raw_sha256,
    table.c.received_at,
)


def all_strays(store: Store) -> list[Stray]:
    """Rows set aside, the newest first, with what was decided of each."""
    with store.read() as connection:
        return strays(connection)


def stray(store: Store, number: int) -> Stray:
    """One row set aside.

    :raises NotKnown: there is none of this number.
    """
    with store.read() as connection:
        found = strays(connection, number) if number <= _LARGEST_NUMBER else []
    if not found:
        raise NotKnown("row set aside", str(number))
    return found[0]


def strays(connection: Connection, number: int | None = None) -> list[Stray]:
    """Rows set aside inside a running transaction: all of them, or the one of this number."""
    decided = _decisions(connection)
    query = select(*_SHOWN).order_by(table.c.number.desc())
    query = query if number is None else query.where(table.c.number == number)
    found = (Stray(*one) for one in connection.execute(query))
    return [replace(one, decision=decided.get(one.raw_sha256)) for one in found]


def _decisions(connection: Connection) -> dict[str, Decision]:
    """The last decision on each raw text."""
    query = (
        select(rows.c.target, rows.c.shown, rows.c.person, rows.c.note, rows.c.recorded_at)
        .where(rows.c.kind == SETTLED, rows.c.log_id == select(server.c.log_id).scalar_subquery())
        .order_by(rows.c.seq)
    )
    return {sha256: Decision(*decision) for sha256, *decision in connection.execute(query)}
