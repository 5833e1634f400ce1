"""Phones that may send: paired with a code, known by a token, cut off when revoked."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from sqlalchemy import Connection, insert, select, update

from ..errors import NotKnown, OutOfRange, Taken
from ..trade.times import format_utc, parse_utc
from .log import holdings
from .one_time import Purpose, Wish, make_pairing_code, spend
from .schema import logs, paired_phones
from .store import Store
from .tokens import new_token, sha256

LONGEST_NAME = 40
#: A token is followed by a new one after so long.
TOKEN_LIFE = timedelta(days=30)
#: The moment of contact is written no more often than this.
_NOTED_EVERY = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class PairedPhone:
    """One phone store that may send, or was cut off."""

    log_id: str
    name: str
    token_sha256: str
    next_token_sha256: str
    token_made_at: str
    paired_at: str
    last_seen_at: str
    revoked_at: str
    replaces: str
    replaced_upto: int


@dataclass(frozen=True, slots=True)
class Replaced:
    """A store that another one stands for now."""

    log_id: str
    name: str
    have_upto: int
    last_contact_at: str


@dataclass(frozen=True, slots=True)
class Pairing:
    """What a phone is told when it is paired."""

    name: str
    token: str
    have_upto: int
    replaces: Replaced | None


def ask_for(store: Store, name: str, replaces: str, now_utc: str) -> str:
    """A code for one phone.

    :param name: what the shop calls the phone.
    :param replaces: log of the phone it stands for; empty for a new one.
    :raises OutOfRange: no name, or a longer one than a list has room for.
    :raises NotKnown: there is no such phone to stand for.
    :raises Taken: another phone has this name.
    """
    plain = " ".join(name.split())
    if not 1 <= len(plain) <= LONGEST_NAME or not plain.isprintable():
        raise OutOfRange("name", plain, f"1 to {LONGEST_NAME} characters that can be printed")
    known = {phone.log_id: phone for phone in every(store)}
    if replaces and replaces not in known and not _has_log(store, replaces):
        raise NotKnown("replaces", replaces)
    for phone in known.values():
        same = phone.name.casefold() == plain.casefold()
        if same and not phone.revoked_at and phone.log_id != replaces:
            raise Taken("name", plain, f"the phone paired on {phone.paired_at[:10]}")
    return make_pairing_code(store, Wish(plain, replaces), now_utc)


def _has_log(store: Store, log_id: str) -> bool:
    with store.read() as connection:
        query = select(logs.c.log_id).where(logs.c.log_id == log_id)
        return connection.execute(query).first() is not None


def pair(store: Store, code: str, log_id: str, now_utc: str) -> Pairing | None:
    """Pair the phone store that shows a code; its log goes on, whatever it lost otherwise.

    :return: its token, told this once; None if the code is not good (any more).
    """
    token = new_token()
    with store.write() as connection:
        wish = spend(connection, Purpose.PAIR, code, now_utc)
        if wish is None:
            return None
        replaced = _replaced(connection, wish.replaces, log_id)
        if replaced:
            _revoke(connection, replaced.log_id, now_utc)
        _keep(connection, log_id, wish.name, token, replaced, now_utc)
        have_upto, _ = holdings(connection, log_id)
    return Pairing(wish.name, token, have_upto, replaced)


def _keep(
    connection: Connection,
    log_id: str,
    name: str,
    token: str,
    replaced: Replaced | None,
    now_utc: str,
) -> None:
    here = paired_phones.c.log_id == log_id
    values: dict[str, Any] = {
        "name": name,
        "token_sha256": sha256(token),
        "next_token_sha256": "",
        "token_made_at": now_utc,
        "paired_at": now_utc,
        "last_seen_at": now_utc,
        "revoked_at": "",
    }
    if replaced:
        values |= {"replaces": replaced.log_id, "replaced_upto": replaced.have_upto}
    if connection.execute(select(paired_phones.c.log_id).where(here)).first():
        # What this store once stood for stays true when it is paired again.
        connection.execute(update(paired_phones).where(here).values(**values))
        return
    first = {"replaces": "", "replaced_upto": 0, **values}
    connection.execute(insert(paired_phones).values(log_id=log_id, **first))


def _replaced(connection: Connection, replaces: str, log_id: str) -> Replaced | None:
    """The store that is gone; none if the very same one came back."""
    if replaces in ("", log_id):
        return None
    have_upto, _ = holdings(connection, replaces)
    here = paired_phones.c.log_id == replaces
    name = connection.scalar(select(paired_phones.c.name).where(here)) or ""
    seen = select(logs.c.last_contact_at).where(logs.c.log_id == replaces)
    return Replaced(replaces, name, have_upto, connection.scalar(seen) or "")


def recognised(store: Store, token: str, now_utc: str) -> PairedPhone | None:
    """The phone of a token, revoked or not; its contact is noted.

    A token that was given and is used for the first time takes the place of the one before.
    """
    given = sha256(token)
    which = (paired_phones.c.token_sha256 == given) | (paired_phones.c.next_token_sha256 == given)
    with store.read() as connection:
        found = connection.execute(select(paired_phones).where(which)).mappings().first()
    if found is None:
        return None
    phone = _phone(found)
    is_next = found["next_token_sha256"] == given
    is_stale = phone.last_seen_at < format_utc(parse_utc(now_utc) - _NOTED_EVERY)
    if not phone.revoked_at and (is_next or is_stale):
        _note_use(store, phone.log_id, given if is_next else "", now_utc)
    return phone


def _note_use(store: Store, log_id: str, new_sha256: str, now_utc: str) -> None:
    values = {"last_seen_at": now_utc}
    if new_sha256:
        values |= {"token_sha256": new_sha256, "next_token_sha256": "", "token_made_at": now_utc}
    with store.write() as connection:
        here = paired_phones.c.log_id == log_id
        connection.execute(update(paired_phones).where(here).values(**values))


def next_token(store: Store, phone: PairedPhone, now_utc: str) -> str:
    """A new token for a phone whose token is old; empty while it is not.

    Of two requests that overlap, only one is given a token: the other would make it void.

    :param phone: as it was when it asked.
    """
    if parse_utc(phone.token_made_at) + TOKEN_LIFE > parse_utc(now_utc):
        return ""
    token = new_token()
    with store.write() as connection:
        as_it_asked = (
            (paired_phones.c.log_id == phone.log_id)
            & (paired_phones.c.token_sha256 == phone.token_sha256)
            & (paired_phones.c.next_token_sha256 == phone.next_token_sha256)
        )
        change = update(paired_phones).where(as_it_asked)
        given = connection.execute(change.values(next_token_sha256=sha256(token)))
    return token if given.rowcount else ""


def revoke(store: Store, log_id: str, now_utc: str) -> None:
    """Cut a phone off from its next request on; what it holds stays on it.

    :raises NotKnown: no such phone was ever paired.
    """
    with store.write() as connection:
        here = paired_phones.c.log_id == log_id
        if connection.execute(select(paired_phones.c.log_id).where(here)).first() is None:
            raise NotKnown("phone", log_id)
        _revoke(connection, log_id, now_utc)


def _revoke(connection: Connection, log_id: str, now_utc: str) -> None:
    still = (paired_phones.c.log_id == log_id) & (paired_phones.c.revoked_at == "")
    connection.execute(update(paired_phones).where(still).values(revoked_at=now_utc))


def every(store: Store) -> list[PairedPhone]:
    """Every phone that was ever paired, the last paired first."""
    query = select(paired_phones).order_by(paired_phones.c.paired_at.desc())
    with store.read() as connection:
        return [_phone(found) for found in connection.execute(query).mappings()]


def _phone(found: Any) -> PairedPhone:
    return PairedPhone(**{name: found[name] for name in PairedPhone.__slots__})
