"""Files of records as the operating system sees them: their owner's alone, and really on disk."""

import contextlib
import errno
import hashlib
import os
import shutil
from pathlib import Path

#: Files that SQLite keeps beside a database.
BESIDE = ("-journal", "-wal", "-shm")
_OWNER_ONLY, _OWNER_ONLY_FOLDER = 0o600, 0o700


def beside(database: Path, suffix: str) -> Path:
    """One of the files SQLite keeps beside a database."""
    return database.with_name(database.name + suffix)


def private_folder(folder: Path) -> Path:
    """Make a folder that is its owner's alone, unless it is there already."""
    folder.mkdir(parents=True, exist_ok=True, mode=_OWNER_ONLY_FOLDER)
    return folder


def make_private(file: Path) -> None:
    """Take a file from everybody but its owner; it is made, empty, where it is not there.

    What SQLite keeps beside a database gets the rights of the database. A database that is there
    is never opened here: closing it again would let go of the locks of this process.
    """
    if not file.exists():
        create(file)
    elif os.name == "posix" and file.stat().st_mode & 0o077:
        # Another owner's file works as before.
        with contextlib.suppress(PermissionError):
            file.chmod(_OWNER_ONLY)


def create(file: Path) -> None:
    """Make a new, empty, private file.

    :raises FileExistsError: there is one of this name.
    """
    os.close(os.open(file, os.O_RDWR | os.O_CREAT | os.O_EXCL, _OWNER_ONLY))


def copy(source: Path, target: Path) -> None:
    """Copy the bytes of a file into a new private one, down to the disk.

    :raises FileExistsError: the target is there already.
    """
    create(target)
    shutil.copyfile(source, target)
    sync(target)


def sync(file: Path) -> None:
    """See to it that the bytes of a file are on disk."""
    with file.open("rb+") as opened:
        os.fsync(opened.fileno())


def sync_folder(folder: Path) -> None:
    """See to it that the names in a folder are on disk; some systems have no such thing."""
    if os.name != "posix":
        return
    number = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(number)
    except OSError as error:
        # Some shares of a network know no such thing, either.
        if error.errno not in (errno.EINVAL, errno.ENOTSUP):
            raise
    finally:
        os.close(number)


def discard(database: Path) -> None:
    """Remove a side file and what SQLite kept beside it; the file last."""
    for suffix in (*BESIDE, ""):
        beside(database, suffix).unlink(missing_ok=True)


def sha256_of(file: Path) -> str:
    """SHA-256 of the bytes of a file, hexadecimal."""
    with file.open("rb") as opened:
        return hashlib.file_digest(opened, "sha256").hexdigest()
