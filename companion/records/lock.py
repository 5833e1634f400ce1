"""One process serves a folder of records at a time.

The lock is the system's own and ends with the process, however it ends; the file itself stays.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from ..errors import Taken

NAME = "serving.lock"


@contextmanager
def hold(data_dir: Path) -> Iterator[None]:
    """Hold the folder for the length of the block.

    :raises Taken: another process serves it.
    """
    data_dir.mkdir(parents=True, exist_ok=True, mode=0o700)
    with (data_dir / NAME).open("ab") as file:
        if not _locked(file):
            raise Taken("--data", str(data_dir), "a server that is running")
        yield


def is_held(data_dir: Path) -> bool:
    """Whether a process serves the folder now."""
    with suppress(FileNotFoundError), (data_dir / NAME).open("rb+") as file:
        return not _locked(file)
    return False


def _locked(file: BinaryIO) -> bool:
    """Lock the file until it is closed; False where another has it."""
    try:
        if sys.platform == "win32":
            import msvcrt

            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
