"""Codes: minted here, each given out once."""

import secrets

from sqlalchemy import Connection, insert, select

from ..trade.codes import ALPHABET, PAYLOAD_LENGTH, mint
from .schema import codes
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
        taken = set(connection.scalars(select(codes.c.code).where(codes.c.code.in_(drawn))))
        fresh |= drawn - taken
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


def _draw() -> str | None:
    return mint([secrets.randbelow(len(ALPHABET)) for _ in range(PAYLOAD_LENGTH)])
