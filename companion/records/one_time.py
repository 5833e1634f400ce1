"""Codes that work once and for a short time."""

from dataclasses import dataclass
from datetime import timedelta
from enum import Enum

from sqlalchemy import ColumnElement, Connection, insert, select, update

from ..trade.times import format_utc, parse_utc
from .schema import one_time_codes
from .store import Store
from .tokens import new_console_code, new_pairing_code, plain_code, sha256

PAIRING_CODE_LIFE = timedelta(minutes=5)
CONSOLE_CODE_LIFE = timedelta(hours=1)


class Purpose(Enum):
    """What a code opens."""

    PAIR = "pair"
    PASSPHRASE = "passphrase"


@dataclass(frozen=True, slots=True)
class Wish:
    """What the office said when it asked for a pairing code."""

    name: str
    #: log of the phone this one stands for; empty for a new phone.
    replaces: str


def make_pairing_code(store: Store, wish: Wish, now_utc: str) -> str:
    """A code that pairs one phone within five minutes; codes made before are void."""
    with store.write() as connection:
        return _make(connection, Purpose.PAIR, new_pairing_code(), now_utc, wish)


def make_console_code(store: Store, now_utc: str) -> str:
    """A code that sets the passphrase once within the hour; codes made before are void."""
    with store.write() as connection:
        code = new_console_code()
        return _make(connection, Purpose.PASSPHRASE, code, now_utc, Wish("", ""))


def _make(connection: Connection, purpose: Purpose, code: str, now_utc: str, wish: Wish) -> str:
    _void(connection, one_time_codes.c.purpose == purpose.value, now_utc)
    life = PAIRING_CODE_LIFE if purpose is Purpose.PAIR else CONSOLE_CODE_LIFE
    connection.execute(
        insert(one_time_codes).values(
            code_sha256=sha256(code),
            purpose=purpose.value,
            name=wish.name,
            replaces=wish.replaces,
            made_at=now_utc,
            expires_at=format_utc(parse_utc(now_utc) + life),
            used_at="",
        )
    )
    return code


def void_all(connection: Connection, now_utc: str) -> None:
    """Have no code be good any more, inside a running transaction."""
    _void(connection, one_time_codes.c.purpose != "", now_utc)


def _void(connection: Connection, which: ColumnElement[bool], now_utc: str) -> None:
    still = which & (one_time_codes.c.used_at == "")
    connection.execute(update(one_time_codes).where(still).values(used_at=now_utc))


def spend(connection: Connection, purpose: Purpose, typed: str, now_utc: str) -> Wish | None:
    """Use a code up inside a running transaction.

    :return: what it was made for; None if it is unknown, used, expired or of another purpose,
        which of these is not told.
    """
    here = one_time_codes.c.code_sha256 == sha256(plain_code(typed))
    good = (
        here
        & (one_time_codes.c.purpose == purpose.value)
        & (one_time_codes.c.used_at == "")
        & (one_time_codes.c.expires_at > now_utc)
    )
    query = select(one_time_codes.c.name, one_time_codes.c.replaces).where(good)
    found = connection.execute(query).first()
    if found is None:
        return None
    connection.execute(update(one_time_codes).where(here).values(used_at=now_utc))
    return Wish(*found)
