"""What restored records take over from those they replace: above all, every code given out.

The old records are read through a copy, so that looking at them changes nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, func, insert, inspect, select
from sqlalchemy.dialects.sqlite import insert as insert_or
from sqlalchemy.exc import DatabaseError

from . import files
from .schema import backups, codes, printed_labels, server
from .store import Store, integrity_problems, sqlite_url

#: Each with its own primary key, so that a line known on both sides stays one.
_TAKEN_OVER = (codes, printed_labels, backups)


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
    :ivar sound: false if the old records could not be read as a whole.
    """

    codes: int
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
    lines = {one.name: _readable(store, one, one.columns.keys()) for one in _TAKEN_OVER}
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


def add_previous(connection: Connection, previous: Previous) -> Kept:
    """Add what the old records knew, inside a running transaction."""
    before = _count(connection, codes)
    for table in (codes, backups):
        lines = previous.lines.get(table.name, [])
        if lines:
            connection.execute(insert(table).prefix_with("OR IGNORE"), lines)
    _add_prints(connection, previous.lines.get(printed_labels.name, []))
    return Kept(codes=_count(connection, codes) - before, sound=previous.sound)


def _add_prints(connection: Connection, lines: list[dict[str, Any]]) -> None:
    """The last time a label was made counts."""
    statement = insert_or(printed_labels)
    later = func.max(printed_labels.c.printed_at, statement.excluded.printed_at)
    statement = statement.on_conflict_do_update(
        index_elements=[printed_labels.c.code], set_={"printed_at": later}
    )
    if lines:
        connection.execute(statement, lines)


def _count(connection: Connection, table: Table) -> int:
    return connection.scalar(select(func.count()).select_from(table)) or 0
