"""The passphrase of the office: kept as argon2id, asked for everywhere but on this machine alone.

Argon2id with the parameters of RFC 9106 for little memory (section 4, second choice), which are
the library's own.
"""

import unicodedata

from argon2 import PasswordHasher
from argon2.exceptions import VerifyMismatchError
from sqlalchemy import Connection, insert, select

from ..errors import OutOfRange
from .one_time import Purpose, spend
from .schema import passphrases
from .sessions import end_all
from .store import Store

SHORTEST, ADVISED, LONGEST = 8, 15, 200

_hasher = PasswordHasher()


def is_set(store: Store) -> bool:
    """Whether the office has a passphrase."""
    with store.read() as connection:
        return _newest(connection) is not None


def choose(store: Store, typed: str, now_utc: str) -> None:
    """Set the passphrase; every session ends.

    :raises OutOfRange: shorter or longer than allowed. Nothing else is asked of it.
    """
    hashed = _hashed(typed)
    with store.write() as connection:
        _keep(connection, hashed, now_utc)


def choose_with_code(store: Store, code: str, typed: str, now_utc: str) -> bool:
    """Set the passphrase with the code of the terminal; every session ends.

    :return: False if the code is not good (any more); nothing was changed.
    :raises OutOfRange: the passphrase cannot be taken; the code stays good.
    """
    hashed = _hashed(typed)
    with store.write() as connection:
        if spend(connection, Purpose.PASSPHRASE, code, now_utc) is None:
            return False
        _keep(connection, hashed, now_utc)
    return True


def fits(store: Store, typed: str) -> bool:
    """Whether this is the passphrase."""
    with store.read() as connection:
        kept = _newest(connection)
    if kept is None or len(_plain(typed)) > LONGEST:
        return False
    try:
        return _hasher.verify(kept, _plain(typed))
    except (VerifyMismatchError, UnicodeEncodeError):
        return False


def _keep(connection: Connection, hashed: str, now_utc: str) -> None:
    connection.execute(insert(passphrases).values(argon2id=hashed, set_at=now_utc))
    end_all(connection, now_utc)


def _hashed(typed: str) -> str:
    if not SHORTEST <= len(_plain(typed)) <= LONGEST:
        # The passphrase itself is never repeated, not even in an error.
        length = f"{len(_plain(typed))} characters"
        allowed = f"{SHORTEST} to {LONGEST} characters, better {ADVISED} or more"
        raise OutOfRange("passphrase", length, allowed)
    try:
        return _hasher.hash(_plain(typed))
    except UnicodeEncodeError as error:
        raise OutOfRange("passphrase", "no text", "text, UTF-8") from error


def _plain(typed: str) -> str:
    """The same letters are the same bytes, whatever keyboard typed them."""
    return unicodedata.normalize("NFC", typed)


def _newest(connection: Connection) -> str | None:
    query = select(passphrases.c.argon2id).order_by(passphrases.c.number.desc()).limit(1)
    return connection.scalar(query)
