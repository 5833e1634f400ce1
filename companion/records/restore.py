"""A backup in the place of the records; a kill at any step leaves one of the two in use.

Everything is made ready in a file beside the records. What changes the records is one rename; what
is moved before it, the records do without.
"""

import contextlib
import os
import sqlite3
import uuid
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from sqlalchemy import select, update
from sqlalchemy.exc import DatabaseError

from ..errors import OutOfRange
from ..trade.rows import Row
from ..trade.times import format_utc
from . import files
from .backup import stamp
from .contents import counts
from .left_behind import hand_out, left_behind
from .merging import Kept, Previous, add_previous, read_previous
from .schema import server
from .store import Store, integrity_problems, known_revisions, revision, sqlite_url

_SIDE, _OLD = ".restoring", ".restoring-old"
_MAGIC = b"SQLite format 3\0"
_FIELD = "backup"
_OURS = "a sound backup made by this program"


@dataclass(frozen=True, slots=True)
class Restored:
    """What stands in the place of the records now.

    :ivar kept_aside: the records that stood there before, under their new name; None if none did.
    :ivar kept: what was taken over from them.
    :ivar left_behind: rows they hold and the backup lacks; where there are any, in a log of
        their own.
    """

    server_id: str
    epoch: str
    demo: bool
    rows: int
    kept_aside: Path | None
    kept: Kept
    left_behind: tuple[Row, ...] = ()
    left_behind_in: Path | None = None


def restore(
    database: Path, backup: Path, *, demo: bool, other_server: bool, moment: datetime
) -> Restored:
    """Put a backup in the place of the records; nobody may have them open.

    :param demo: whether a demo workshop is expected where no readable records say so.
    :param other_server: let it be the backup of another server than the one it replaces.
    :raises OutOfRange: no sound backup, of a newer version, of another server, or a demo workshop
        where a shop belongs and the other way round; the records are as they were then.
    """
    side, old = files.beside(database, _SIDE), files.beside(database, _OLD)
    try:
        _copy(database, backup, side)
        store = _judged(backup, side)
        try:
            previous = read_previous(database, old)
            _check_identity(backup, store, previous, demo=demo, other_server=other_server)
            done = _made_ready(store, previous, format_utc(moment))
            done = replace(done, left_behind=tuple(left_behind(old, store)))
        finally:
            store.close()
        return _handed_out(database, moment, _swapped(database, side, moment, done))
    finally:
        files.discard(side)
        files.discard(old)


def _copy(database: Path, backup: Path, side: Path) -> None:
    """Copy the backup beside the records.

    :raises OutOfRange: it is the records themselves, or was never finished.
    """
    if database.exists() and backup.samefile(database):
        raise OutOfRange(_FIELD, backup, "another file than the records themselves")
    for suffix in ("-journal", "-wal"):
        begun = files.beside(backup, suffix)
        if begun.exists() and begun.stat().st_size:
            raise OutOfRange(
                _FIELD, backup, f"a backup that is finished; {begun.name} is beside it"
            )
    files.discard(side)
    files.copy(backup, side)


def _judged(backup: Path, side: Path) -> Store:
    """The copy, opened, once it is sound and of a version we know."""
    with side.open("rb") as opened:
        if opened.read(len(_MAGIC)) != _MAGIC:
            raise OutOfRange(_FIELD, backup, _OURS)
    store = Store(sqlite_url(side))
    try:
        problems = integrity_problems(store)
        found = revision(store) if not problems else ""
    except DatabaseError as error:
        problems, found = [str(error.orig)], ""
    wrong = ""
    if problems:
        wrong = f"{_OURS}; this one is damaged: {problems[0]}"
    elif not found:
        wrong = _OURS
    elif found not in known_revisions():
        wrong = f"a backup of this version or an older one; this one is newer (schema {found})"
    if wrong:
        store.close()
        raise OutOfRange(_FIELD, backup, wrong)
    return store


def _check_identity(
    backup: Path, store: Store, previous: Previous, *, demo: bool, other_server: bool
) -> None:
    with store.read() as connection:
        found = connection.execute(select(server.c.server_id, server.c.demo)).first()
    if found is None:
        raise OutOfRange(_FIELD, backup, _OURS)
    if found.demo != (demo if previous.demo is None else previous.demo):
        kind = "a real shop" if found.demo else "the demo workshop"
        raise OutOfRange(_FIELD, backup, f"a backup of {kind}")
    if previous.server_id not in ("", found.server_id) and not other_server:
        allowed = f"a backup of the server {previous.server_id}; this one is of the server"
        raise OutOfRange(_FIELD, backup, f"{allowed} {found.server_id} (see --other-server)")


def _made_ready(store: Store, previous: Previous, at: str) -> Restored:
    """Newest schema, a new epoch, and what the old records know better."""
    store.migrate()
    with store.write() as connection:
        connection.execute(update(server).values(epoch=str(uuid.uuid4())))
        kept = add_previous(connection, previous, at)
        who = connection.execute(select(server)).one()
        held = counts(connection)
    return Restored(who.server_id, who.epoch, who.demo, held.rows, None, kept)


def _swapped(database: Path, side: Path, moment: datetime, done: Restored) -> Restored:
    for suffix in files.BESIDE:
        files.beside(side, suffix).unlink(missing_ok=True)
    files.sync(side)
    aside = database.with_name(f"companion-before-restore-{stamp(moment)}.sqlite3")
    there = database.exists()
    _move_aside(database, aside, there)
    os.replace(side, database)
    files.sync_folder(database.parent)
    return replace(done, kept_aside=aside if there else None)


def _handed_out(database: Path, moment: datetime, done: Restored) -> Restored:
    if not done.left_behind:
        return done
    file = database.with_name(f"companion-not-in-backup-{stamp(moment)}.csv")
    hand_out(list(done.left_behind), file)
    return replace(done, left_behind_in=file)


def _move_aside(database: Path, aside: Path, there: bool) -> None:
    """Give the records a second name, and move away what SQLite would play into the new ones."""
    # The records never use these two; whatever they are, the records are whole without them.
    _rename(database, aside, ("-wal", "-shm"))
    if there:
        _roll_back(database)
        _second_name(database, aside)
    _rename(database, aside, ("-journal",))
    files.sync_folder(database.parent)


def _rename(database: Path, aside: Path, suffixes: tuple[str, ...]) -> None:
    for suffix in suffixes:
        if files.beside(database, suffix).exists():
            os.replace(files.beside(database, suffix), files.beside(aside, suffix))


def _roll_back(database: Path) -> None:
    """Undo a write that was killed: from now on the records are whole without their journal."""
    with contextlib.suppress(sqlite3.DatabaseError), closing(sqlite3.connect(database)) as old:
        old.execute("SELECT count(*) FROM sqlite_master").fetchone()


def _second_name(database: Path, aside: Path) -> None:
    """Until the rename the records must stay where they are, so they are linked, not moved."""
    for left in database.parent.glob("companion-before-restore-*.sqlite3"):
        # Linked by a restore that was killed before its rename.
        if left.samefile(database):
            left.unlink()
    try:
        os.link(database, aside)
    except FileExistsError:
        raise
    except OSError:
        # A file system without links.
        files.copy(database, aside)
