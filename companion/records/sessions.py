"""Browsers that came in with the passphrase: begun, listed, ended."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, insert, select, update

from ..trade.times import format_utc, parse_utc
from .schema import sessions
from .store import Store
from .tokens import new_token, sha256

#: A session ends by itself after so long without a page, and at the latest after so long at all.
IDLE_LIFE = timedelta(hours=12)
WHOLE_LIFE = timedelta(days=30)
#: The moment of use is written no more often than this.
_NOTED_EVERY = timedelta(minutes=5)
_LONGEST_BROWSER = 200


@dataclass(frozen=True, slots=True)
class Session:
    """One browser that is in."""

    number: int
    begun_at: str
    last_used_at: str
    browser: str


def begin(store: Store, browser: str, now_utc: str) -> str:
    """Let a browser in.

    :return: the token of its cookie, told this once.
    """
    token = new_token()
    with store.write() as connection:
        connection.execute(
            insert(sessions).values(
                token_sha256=sha256(token),
                begun_at=now_utc,
                last_used_at=now_utc,
                browser=browser[:_LONGEST_BROWSER],
                ended_at="",
            )
        )
    return token


def recognised(store: Store, token: str, now_utc: str) -> Session | None:
    """The session of a token, if it is still going on; its use is noted."""
    query = _going_on(now_utc).where(sessions.c.token_sha256 == sha256(token))
    with store.read() as connection:
        found = connection.execute(query).first()
    if found is None:
        return None
    session = _session(found)
    if session.last_used_at < format_utc(parse_utc(now_utc) - _NOTED_EVERY):
        with store.write() as connection:
            change = update(sessions).where(sessions.c.number == session.number)
            connection.execute(change.values(last_used_at=now_utc))
    return session


def going_on(store: Store, now_utc: str) -> list[Session]:
    """Sessions that are in, the last used first."""
    query = _going_on(now_utc).order_by(sessions.c.last_used_at.desc())
    with store.read() as connection:
        return [_session(found) for found in connection.execute(query)]


def end(store: Store, number: int, now_utc: str) -> None:
    """End one session."""
    with store.write() as connection:
        _end(connection, sessions.c.number == number, now_utc)


def end_others(store: Store, number: int, now_utc: str) -> None:
    """End every session but one."""
    with store.write() as connection:
        _end(connection, sessions.c.number != number, now_utc)


def end_all(connection: Connection, now_utc: str) -> None:
    """End every session inside a running transaction."""
    _end(connection, sessions.c.number > 0, now_utc)


def _end(connection: Connection, which: ColumnElement[bool], now_utc: str) -> None:
    still = which & (sessions.c.ended_at == "")
    connection.execute(update(sessions).where(still).values(ended_at=now_utc))


def _session(found: Any) -> Session:
    return Session(**found._mapping)


def _going_on(now_utc: str) -> Select[tuple[int, str, str, str]]:
    now = parse_utc(now_utc)
    return select(
        sessions.c.number, sessions.c.begun_at, sessions.c.last_used_at, sessions.c.browser
    ).where(
        (sessions.c.ended_at == "")
        & (sessions.c.last_used_at > format_utc(now - IDLE_LIFE))
        & (sessions.c.begun_at > format_utc(now - WHOLE_LIFE))
    )
