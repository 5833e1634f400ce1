"""One server on one set of records: a lock file in the data folder, held while serving."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from ..errors import InUse
from .files import private_folder

NAME = "serving.lock"


@contextmanager
def hold(data_dir: Path) -> Iterator[None]:
    """Hold the records of a folder; the system lets go of them when the process ends.

    :raises InUse: someone else holds them.
    """
    number = os.open(private_folder(data_dir) / NAME, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if not _locked(number):
            raise InUse(data_dir)
        yield
    finally:
        os.close(number)


def is_held(data_dir: Path) -> bool:
    """Whether someone holds the records of a folder now."""
    if not (data_dir / NAME).exists():
        return False
    try:
        with hold(data_dir):
            return False
    except InUse:
        return True


if sys.platform == "win32":
    import msvcrt

    def _locked(number: int) -> bool:
        try:
            msvcrt.locking(number, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _locked(number: int) -> bool:
        try:
            fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
