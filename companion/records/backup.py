"""Backups: copied while the server writes, and called good only after they were restored.

A copy keeps a name that ends in ``.partial`` until a second copy of it was opened by this program,
found sound, brought to the newest schema and compared with the records at the moment of copying.
"""

import re
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import insert, select
from sqlalchemy.exc import DatabaseError, OperationalError

from ..errors import NotProven, OutOfRange
from ..trade.times import format_utc
from . import files
from .contents import Counts, counts, differences, digest
from .schema import backups
from .store import Store, integrity_problems, sqlite_url

_NAME = re.compile(r"companion-[0-9]{8}T[0-9]{6}Z\.sqlite3\Z")
_PARTIAL, _PROOF = ".partial", ".proof"
#: A side file this old was left by a backup that was killed; seconds.
_LEFT_AFTER_S = 6 * 3600
#: Each waits as long as the store does for its turn.
_TRIES = 6


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup that was proven.

    :ivar sha256: of the bytes of the file, hexadecimal.
    """

    made_at: str
    file: str
    sha256: str
    rows: int


def stamp(moment: datetime) -> str:
    """A moment as it stands in the name of a file: ``20260307T101400Z``."""
    return moment.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")


def back_up(store: Store, folder: Path, moment: datetime) -> Backup:
    """Copy the records into a file of that folder, prove it, and remember that it was made.

    :raises NotProven: the copy is not what the records were; no file is left then.
    :raises OutOfRange: the folder is not one.
    """
    if folder.exists() and not folder.is_dir():
        raise OutOfRange("folder of the backup", folder, "a folder")
    final = files.private_folder(folder) / f"companion-{stamp(moment)}.sqlite3"
    _remove_left_over(folder)
    if final.exists():
        raise OutOfRange("file of the backup", final, "one backup a second")
    with _side_file(final, _PARTIAL) as partial:
        held = _copy(store, partial)
        with _side_file(final, _PROOF) as proof:
            _prove(partial, proof, held, digest(store, held.highest))
        made = Backup(
            format_utc(moment), str(final.absolute()), files.sha256_of(partial), held.rows
        )
        partial.rename(final)
    files.sync_folder(folder)
    try:
        _remember(store, made)
    except DatabaseError:
        final.unlink()
        raise
    return made


def _remember(store: Store, made: Backup) -> None:
    """Note a backup, also where others write so much that it takes a while to get a turn."""
    for tries_left in reversed(range(_TRIES)):
        try:
            with store.write() as connection:
                connection.execute(insert(backups).values(asdict(made)))
            return
        except OperationalError:
            if not tries_left:
                raise


@contextmanager
def _side_file(final: Path, ending: str) -> Iterator[Path]:
    """A name beside the final one, under which nothing is left in the end."""
    side = final.with_name(final.name + ending)
    files.discard(side)
    try:
        yield side
    finally:
        files.discard(side)


def _copy(store: Store, target: Path) -> Counts:
    """Copy the records as they stand at one moment, and count them at that moment.

    A reading transaction holds back every writer while it copies, so nothing else is done in it.
    """
    files.create(target)
    with store.read() as connection:
        held = counts(connection)
        source = connection.connection.driver_connection
        assert isinstance(source, sqlite3.Connection)
        try:
            with closing(sqlite3.connect(target)) as copy:
                source.backup(copy)
        except sqlite3.Error as error:
            raise NotProven(f"the records could not be copied: {error}") from error
    files.sync(target)
    return held


def _prove(backup: Path, proof: Path, held: Counts, sha256: str) -> None:
    """Restore the copy to a side file and compare.

    :raises NotProven: it is damaged, or not what the records were.
    """
    files.copy(backup, proof)
    restored = Store(sqlite_url(proof))
    try:
        problems = integrity_problems(restored)
        if not problems:
            restored.migrate()
            with restored.read() as connection:
                problems = differences(held, counts(connection))
            if digest(restored, held.highest) != sha256:
                problems.append("content of the rows")
    except DatabaseError as error:
        problems = [str(error.orig)]
    finally:
        restored.close()
    if problems:
        raise NotProven(f"the copy is not what the records are: {'; '.join(problems)}")


def _remove_left_over(folder: Path) -> None:
    """Remove side files of backups that were killed; one that is being made is younger."""
    for ending in (_PARTIAL, _PROOF):
        for side in folder.glob(f"companion-*.sqlite3{ending}"):
            if time.time() - side.stat().st_mtime > _LEFT_AFTER_S:
                files.discard(side)


def keep_newest(store: Store, made: Backup, count: int) -> list[Path]:
    """Remove all but the newest backups of these records from the folder of one.

    Files of other records, which may lie in the same folder, and files of other names are left
    alone.

    :param made: the one just made; it stays, whatever a clock that was behind has called it.
    :param count: how many stay, at least 1.
    :return: the files that were removed.
    """
    query = select(backups.c.file).order_by(backups.c.made_at.desc())
    with store.read() as connection:
        known = [Path(file) for file in connection.scalars(query)]
    first = Path(made.file)
    here = first.parent.resolve()
    ours = [first, *(file for file in known if file != first and file.parent.resolve() == here)]
    removed = [file for file in ours if _NAME.match(file.name) and file.is_file()][count:]
    for file in removed:
        file.unlink()
    return removed


def last_proven(store: Store) -> Backup | None:
    """The newest backup that was proven."""
    query = select(backups.c.made_at, backups.c.file, backups.c.sha256, backups.c.rows)
    with store.read() as connection:
        found = connection.execute(query.order_by(backups.c.made_at.desc())).first()
    return Backup(*found) if found else None


def is_as_proven(backup: Backup) -> bool:
    """Whether the file is still there and byte for byte the one that was proven."""
    file = Path(backup.file)
    return file.is_file() and files.sha256_of(file) == backup.sha256
