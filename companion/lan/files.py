"""Files that are whole or not there: written beside, synced, then renamed into place."""

import os
import secrets
from pathlib import Path

from ..records.files import sync_folder

#: Only the user who serves may read.
PRIVATE, PRIVATE_FOLDER = 0o600, 0o700


def make_folder(folder: Path) -> None:
    """Make a folder that is its owner's alone, and close one that was left open to others."""
    folder.mkdir(parents=True, exist_ok=True, mode=PRIVATE_FOLDER)
    folder.chmod(PRIVATE_FOLDER)


def write(path: Path, content: bytes) -> None:
    """Put a file in place of the one there; a cut in between leaves the old one whole."""
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        # Never readable by others, not even for the moment before a chmod.
        number = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE)
        with os.fdopen(number, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
    sync_folder(path.parent)
