"""Records of a shop for the tests of backups."""

import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

from companion.records import catalogue, contents, labels, log
from companion.records.schema import rows
from companion.records.store import Store, sqlite_url
from tests.sample_rows import LOG_ID, lines, row

AT = "2026-03-08T09:00:00.000Z"


def opened(database: Path) -> Store:
    """Records in a file, newest schema, with an identity."""
    database.parent.mkdir(parents=True, exist_ok=True)
    store = Store(sqlite_url(database))
    store.migrate()
    catalogue.found(store, demo=False)
    return store


def add(store: Store, numbers: Iterable[int]) -> None:
    """Rows of one phone."""
    found = lines([row(number) for number in numbers])
    log.append(store, LOG_ID, found, log.Contact(AT))


def fill(store: Store, count: int) -> None:
    """Many more rows of that phone, copied from its first one."""
    names = [column.name for column in rows.columns if column.name != "number"]
    values = {"seq": "n", "event_id": "substr(event_id, 1, 24) || printf('%012d', n)"}
    picked = ", ".join(values.get(name, name) for name in names)
    with store.write() as connection:
        connection.exec_driver_sql(
            "WITH RECURSIVE more(n) AS (SELECT (SELECT max(seq) FROM rows) + 1 UNION ALL"
            f" SELECT n + 1 FROM more LIMIT {count}) INSERT INTO rows ({', '.join(names)})"
            f" SELECT {picked} FROM more, (SELECT * FROM rows WHERE number = 1) ORDER BY n"
        )


def mint(store: Store, count: int) -> set[str]:
    """Codes given to that phone."""
    return set(labels.take(store, count, LOG_ID, AT))


def codes(store: Store) -> set[str]:
    """Every code that counts as given out."""
    with store.read() as connection:
        return set(connection.exec_driver_sql("SELECT code FROM codes").scalars())


def rows_digest(store: Store) -> str:
    """Digest of all rows."""
    return contents.digest(store, 2**62)


def die_while_writing(database: Path) -> None:
    """Another process is killed in the middle of a write; its journal stays."""
    command = [sys.executable, "-m", "tests.records.writer", str(database), "half"]
    assert subprocess.run(command, check=False).returncode == -9
    assert database.with_name(f"{database.name}-journal").stat().st_size > 0
