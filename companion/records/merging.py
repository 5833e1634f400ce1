"""What restored records take over from those they replace.

Every code given out, or it could be given out again; and who may come in, or a phone that was cut
off since would be in again, and one that was paired since could not send. The old records are read
through a copy, so that looking at them changes nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, func, insert, inspect, select
from sqlalchemy.exc import DatabaseError

from . import files, one_time, sessions
from .schema import backups, codes, paired_phones, passphrases, printed_labels, server
from .store import Store, integrity_problems, sqlite_url

#: Lines the old records know better: they are the younger ones.
_OF_ANY_SERVER = (codes, printed_labels, backups)
_OF_THE_SAME_SERVER = (paired_phones, passphrases)


@dataclass(frozen=True, slots=True)
class Previous:
    """What could be read of the old records.

    :ivar server_id: empty where it could not be read.
    :ivar demo: None where it could not be read.
    :ivar sound: false if something of them may be missing here.
    """

    there: bool = False
    sound: bool = True
    server_id: str = ""
    demo: bool | None = None
    lines: dict[str, list[dict[str, Any]]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Kept:
    """What was taken over.

    :ivar codes: codes given out that the backup did not know.
    :ivar access: whether who may come in was taken over.
    :ivar sound: false if the old records could not be read as a whole.
    """

    codes: int
    access: bool
    sound: bool


def read_previous(database: Path, copy: Path) -> Previous:
    """Read the old records, as far as they can be read.

    :param copy: name of a side file; who asked removes it.
    """
    files.discard(copy)
    if not database.exists() or not database.stat().st_size:
        return Previous()
    journal = files.beside(database, "-journal")
    if journal.exists():
        files.copy(journal, files.beside(copy, "-journal"))
    files.copy(database, copy)
    store = Store(sqlite_url(copy))
    try:
        return _read(store)
    finally:
        store.close()


def _read(store: Store) -> Previous:
    sound = _is_sound(store)
    who = _readable(store, server, ("server_id", "demo"))
    tables = (*_OF_ANY_SERVER, *_OF_THE_SAME_SERVER)
    lines = {one.name: _readable(store, one, one.columns.keys()) for one in tables}
    return Previous(
        there=True,
        sound=sound,
        server_id=str(who[0]["server_id"]) if who else "",
        demo=bool(who[0]["demo"]) if who else None,
        lines=lines,
    )


def _is_sound(store: Store) -> bool:
    try:
        return not integrity_problems(store)
    except DatabaseError:
        return False


def _readable(store: Store, table: Table, names: Sequence[str]) -> list[dict[str, Any]]:
    """Lines of a table up to where it is damaged; none where it is not there."""
    found: list[dict[str, Any]] = []
    try:
        with store.read() as connection:
            if inspect(connection).has_table(table.name):
                query = select(*(table.c[name] for name in names))
                found.extend(dict(line) for line in connection.execute(query).mappings())
    except DatabaseError:
        pass
    return found


def add_previous(connection: Connection, previous: Previous, at: str) -> Kept:
    """Add what the old records knew, inside a running transaction.

    Sessions end and codes that work once are void: which of them were good is not in a backup.

    :param at: now, RFC 3339, UTC.
    """
    before = _count(connection, codes)
    is_same = previous.server_id == connection.scalar(select(server.c.server_id))
    for table in (*_OF_ANY_SERVER, *(_OF_THE_SAME_SERVER if is_same else ())):
        lines = previous.lines.get(table.name, [])
        if lines:
            connection.execute(insert(table).prefix_with("OR REPLACE"), lines)
    sessions.end_all(connection, at)
    one_time.void_all(connection, at)
    return Kept(_count(connection, codes) - before, is_same, previous.sound)


def _count(connection: Connection, table: Table) -> int:
    return connection.scalar(select(func.count()).select_from(table)) or 0
