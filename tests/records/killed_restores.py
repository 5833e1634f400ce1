"""Restores that are killed with SIGKILL, each in a process of its own; what is left, as JSON lines.

``python -m tests.records.killed_restores RECORDS BACKUP FOLDER steps`` kills before the first step
that touches the disk, then before the second, and so on until one restore comes through;
``... moments N`` kills N of them at any moment.
"""

import json
import os
import shutil
import signal
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from random import Random
from typing import Any

from companion.records import catalogue
from companion.records.restore import restore
from companion.records.store import Store, integrity_problems, sqlite_url
from tests.records.shop_records import codes, rows_digest

STEPS = ((os, "replace"), (os, "link"), (os, "unlink"), (os, "fsync"), (shutil, "copyfile"))


def run(database: Path, backup: Path) -> None:
    moment = datetime.now(UTC)
    restore(database, backup, demo=False, other_server=False, moment=moment)


def die_before(step: int) -> None:
    """Have this process killed before it takes that step."""
    taken = count(1)

    def counted(work: Callable[..., Any]) -> Callable[..., Any]:
        def wrapped(*arguments: Any, **options: Any) -> Any:
            if next(taken) == step:
                os.kill(os.getpid(), signal.SIGKILL)
            return work(*arguments, **options)

        return wrapped

    for module, name in STEPS:
        setattr(module, name, counted(getattr(module, name)))


def in_a_child(prepare: Callable[[], None], database: Path, backup: Path) -> int:
    """Restore in a process of its own; its id."""
    child = os.fork()
    if not child:
        prepare()
        run(database, backup)
        os._exit(0)
    return child


def was_killed(child: int) -> bool:
    return os.WIFSIGNALED(os.waitpid(child, 0)[1])


def tell(database: Path, killed: bool) -> None:
    """Open what is there as a server does, and tell what it is."""
    store = Store(sqlite_url(database))
    store.migrate()
    told = {
        "killed": killed,
        "problems": integrity_problems(store),
        "epoch": catalogue.identity(store).epoch,
        "rows": rows_digest(store),
        "codes": sorted(codes(store)),
    }
    store.close()
    print(json.dumps(told), flush=True)


def fresh(records: Path, folder: Path) -> Path:
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(records.parent, folder)
    return folder / records.name


def kill_at_every_step(records: Path, backup: Path, folder: Path) -> None:
    for step in count(1):
        database = fresh(records, folder)
        killed = was_killed(in_a_child(lambda step=step: die_before(step), database, backup))
        tell(database, killed)
        # The next one comes through, whatever the killed one left.
        assert not was_killed(in_a_child(lambda: None, database, backup))
        tell(database, False)
        if not killed:
            return


def kill_at_any_moment(records: Path, backup: Path, folder: Path, runs: int) -> None:
    dice = Random(60)
    began = time.perf_counter()
    was_killed(in_a_child(lambda: None, fresh(records, folder), backup))
    longest_s = time.perf_counter() - began
    for _ in range(runs):
        database = fresh(records, folder)
        child = in_a_child(lambda: None, database, backup)
        time.sleep(dice.uniform(0, longest_s))
        os.kill(child, signal.SIGKILL)
        tell(database, was_killed(child))


if __name__ == "__main__":
    places = [Path(argument) for argument in sys.argv[1:4]]
    if sys.argv[4] == "steps":
        kill_at_every_step(*places)
    else:
        kill_at_any_moment(*places, int(sys.argv[5]))
