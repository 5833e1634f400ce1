"""The database: one writer, immediate transactions, nothing acknowledged before it is on disk.

SQLite runs with a rollback journal that is truncated and synced at commit, and with FULL
synchronous: an acknowledged row survives a power cut. The write-ahead log is left out on purpose;
versions of SQLite before 3.51.3 can damage it when two connections write and checkpoint.
"""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config as AlembicConfig
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import URL, Connection, create_engine, event

from ..errors import OutOfRange

BUSY_TIMEOUT_S = 5.0
_MIGRATIONS = Path(__file__).parent / "migrations"


class Store:
    """Connections to the records; one per process."""

    def __init__(self, url: str | URL) -> None:
        self.engine = create_engine(url)
        self._one_writer = threading.Lock()
        if self.engine.dialect.name == "sqlite":
            event.listen(self.engine, "connect", _prepare_sqlite)
            event.listen(self.engine, "begin", _begin_sqlite)

    @contextmanager
    def read(self) -> Iterator[Connection]:
        """A connection that sees one consistent state and writes nothing."""
        with self.engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def write(self) -> Iterator[Connection]:
        """The writing connection: all of the block is kept, or none of it."""
        with self._one_writer, self.engine.connect() as connection:
            connection = connection.execution_options(companion_writes=True)
            with connection.begin():
                yield connection

    def migrate(self) -> None:
        """Bring the tables to the newest schema; forward only."""
        config = _alembic()
        with self.write() as connection:
            config.attributes["connection"] = connection
            try:
                command.upgrade(config, "head")
            except CommandError as error:
                url = str(self.engine.url)
                raise OutOfRange("records", url, "records this version knows") from error

    def close(self) -> None:
        """Give up every connection."""
        self.engine.dispose()


def sqlite_url(file: Path) -> URL:
    """URL of records in a file, whatever characters its name has."""
    return URL.create("sqlite", database=str(file))


def _alembic() -> AlembicConfig:
    config = AlembicConfig()
    config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
    return config


def known_revisions() -> set[str]:
    """Every schema this version can bring to its own."""
    return {script.revision for script in ScriptDirectory.from_config(_alembic()).walk_revisions()}


def revision(store: Store) -> str:
    """The schema records are in; empty if they are not ours."""
    with store.read() as connection:
        return MigrationContext.configure(connection).get_current_revision() or ""


def integrity_problems(store: Store) -> list[str]:
    """What the database finds wrong with itself; empty if nothing."""
    if store.engine.dialect.name != "sqlite":
        return []
    with store.read() as connection:
        found = [str(line) for line in _pragma(connection, "integrity_check")]
        if found != ["ok"]:
            return found
        astray = {str(name) for name in _pragma(connection, "foreign_key_check")}
    return [f"lines of {name} that refer to nothing" for name in sorted(astray)]


def _pragma(connection: Connection, name: str) -> list[Any]:
    return list(connection.exec_driver_sql(f"PRAGMA {name}").scalars())


def _prepare_sqlite(connection: Any, _record: Any) -> None:
    # SQLAlchemy begins transactions itself (below); the driver must not.
    connection.isolation_level = None
    for pragma in (
        f"busy_timeout = {int(BUSY_TIMEOUT_S * 1000)}",
        "journal_mode = TRUNCATE",
        "synchronous = FULL",
        "foreign_keys = ON",
    ):
        connection.execute(f"PRAGMA {pragma}")


def _begin_sqlite(connection: Connection) -> None:
    # A write that starts as a read may find the file changed under it and fail at once.
    writes = connection.get_execution_options().get("companion_writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
