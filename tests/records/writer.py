"""A process that appends rows to records until it is killed or its input ends.

``python -m tests.records.writer RECORDS FIRST`` prints one line per append;
``python -m tests.records.writer RECORDS half`` dies in the middle of a write, as when the power
goes: the database holds half of it, its journal what undoes that.
"""

import os
import select
import signal
import sqlite3
import sys
import time
from pathlib import Path

from companion.records import log
from companion.records.store import Store, sqlite_url
from tests.sample_rows import LOG_ID, lines, row

ROWS_AT_ONCE = 5


def append(database: Path, first: int) -> None:
    store = Store(sqlite_url(database))
    while not select.select([sys.stdin], [], [], 0)[0]:
        rows = [row(number) for number in range(first, first + ROWS_AT_ONCE)]
        log.append(store, LOG_ID, lines(rows), log.Contact("2026-03-08T09:00:00.000Z"))
        first += ROWS_AT_ONCE
        print(first - 1, flush=True)
        # A server reads, answers and waits between two writes, too.
        time.sleep(0.005)


def write_half(database: Path) -> None:
    connection = sqlite3.connect(database, isolation_level=None)
    # So small a cache makes SQLite write before the end of the transaction.
    connection.execute("PRAGMA cache_size = 1")
    connection.execute("BEGIN IMMEDIATE")
    connection.execute("UPDATE rows SET note = 'half' || hex(zeroblob(400))")
    connection.execute("DELETE FROM codes")
    os.kill(os.getpid(), signal.SIGKILL)


if __name__ == "__main__":
    if sys.argv[2] == "half":
        write_half(Path(sys.argv[1]))
    else:
        append(Path(sys.argv[1]), int(sys.argv[2]))
