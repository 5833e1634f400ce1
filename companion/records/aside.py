"""Rows set aside: for a person to look at, with their raw text."""

from dataclasses import dataclass

from sqlalchemy import select

from .schema import strays
from .store import Store


@dataclass(frozen=True, slots=True)
class Stray:
    """A row set aside for a person to look at."""

    number: int
    log_id: str
    seq: int | None
    status: str
    reason: str
    raw: str
    received_at: str


def all_strays(store: Store) -> list[Stray]:
    """Rows set aside, the newest first."""
    query = select(
        strays.c.number,
        strays.c.log_id,
        strays.c.seq,
        strays.c.status,
        strays.c.reason,
        strays.c.raw,
        strays.c.received_at,
    ).order_by(strays.c.number.desc())
    with store.read() as connection:
        return [Stray(*found) for found in connection.execute(query)]
