"""What records hold, in figures by which two copies of them can be compared."""

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass, fields

from sqlalchemy import Connection, func, inspect, select, table

from .schema import rows
from .store import Store

#: Rows read at once; between two reads a writer gets its turn.
_AT_ONCE = 5000


@dataclass(frozen=True, slots=True)
class Counts:
    """Figures of one moment.

    :ivar per_log: number of rows by log.
    :ivar highest: the highest number a row was received under; 0 without rows.
    :ivar tables: number of lines of every other table.
    """

    per_log: tuple[tuple[str, int], ...]
    highest: int
    tables: tuple[tuple[str, int], ...]

    @property
    def rows(self) -> int:
        """Number of rows of all logs."""
        return sum(count for _, count in self.per_log)


def counts(connection: Connection) -> Counts:
    """Count everything inside a running transaction."""
    by_log = select(rows.c.log_id, func.count()).group_by(rows.c.log_id).order_by(rows.c.log_id)
    names = sorted(set(inspect(connection).get_table_names()) - {rows.name})
    return Counts(
        per_log=tuple((log_id, count) for log_id, count in connection.execute(by_log)),
        highest=connection.scalar(select(func.max(rows.c.number))) or 0,
        tables=tuple((name, _lines(connection, name)) for name in names),
    )


def _lines(connection: Connection, name: str) -> int:
    return connection.scalar(select(func.count()).select_from(table(name))) or 0


def digest(store: Store, highest: int) -> str:
    """SHA-256 over every column of all rows in their order, up to a number, hexadecimal.

    Rows are only ever added, so this stays what it was at the moment that number was the highest.
    """
    sha256 = hashlib.sha256()
    for line in _rows(store, highest):
        sha256.update(json.dumps(line, ensure_ascii=False).encode() + b"\n")
    return sha256.hexdigest()


def _rows(store: Store, highest: int) -> Iterator[list[object]]:
    last = 0
    query = select(rows).order_by(rows.c.number).limit(_AT_ONCE)
    while True:
        with store.read() as connection:
            part = connection.execute(query.where(rows.c.number.between(last + 1, highest))).all()
        yield from (list(line) for line in part)
        if len(part) < _AT_ONCE:
            return
        last = part[-1].number


def differences(one: Counts, other: Counts) -> list[str]:
    """Names of the figures that are not the same."""
    return [
        field.name
        for field in fields(Counts)
        if getattr(one, field.name) != getattr(other, field.name)
    ]
