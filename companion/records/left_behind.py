"""Rows of the records that a backup took the place of, which the backup lacks.

Phones send theirs again; nobody sends those of a phone that was cut off, or of a file that was
brought by hand. They are handed out as a log, to be imported like any other.
"""

from pathlib import Path

from sqlalchemy import select
from sqlalchemy.exc import DatabaseError

from ..trade.rows import Row
from ..wire.log_csv import write_log
from . import files
from .log import all_rows
from .schema import rows
from .store import Store, sqlite_url


def left_behind(old: Path, restored: Store) -> list[Row]:
    """Rows that only the old records hold, as far as those can be read."""
    if not old.exists():
        return []
    with restored.read() as connection:
        held = set(connection.scalars(select(rows.c.event_id)))
    store = Store(sqlite_url(old))
    try:
        found = all_rows(store)
    except DatabaseError:
        return []
    finally:
        store.close()
    return sorted(
        (row for row in found if row.event_id not in held), key=lambda row: (row.log_id, row.seq)
    )


def hand_out(lacking: list[Row], file: Path) -> None:
    """Write rows as a log, for their owner alone."""
    files.create(file)
    file.write_bytes(write_log(lacking).encode())
    files.sync(file)
