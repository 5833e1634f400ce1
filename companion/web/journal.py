"""The journal of a served process: one line of JSON a request, and what became of each door.

No token, no code of a door, no query and no body stands in it. JSON escapes every line break, so
no request can write a line of its own.
"""

import json
import logging
import os
import time
from datetime import timedelta
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path

from flask import Flask, Response, g, request

from .access import phone, session
from .state import now_utc

MOST_BYTES = 2 * 1024 * 1024
OLD_FILES = 5
KEPT_FOR = timedelta(days=90)
_NAME = "requests.log"
_LONGEST_PATH = 200

_logger = logging.getLogger("companion.requests")


def keep(app: Flask, folder: Path) -> None:
    """Write the journal into a folder, from now on."""
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    _logger.setLevel(logging.INFO)
    _logger.propagate = False
    for handler in _logger.handlers[:]:
        _logger.removeHandler(handler)
        handler.close()
    _logger.addHandler(_Journal(folder / _NAME))
    app.before_request(_note_start)
    app.after_request(_write)


class _Journal(RotatingFileHandler):
    """Files of limited size, few of them, and none older than its time."""

    def __init__(self, path: Path) -> None:
        super().__init__(path, maxBytes=MOST_BYTES, backupCount=OLD_FILES, encoding="utf-8")
        self._drop_old()

    def doRollover(self) -> None:
        """Begin a new file."""
        super().doRollover()
        self._drop_old()

    def _drop_old(self) -> None:
        oldest = time.time() - KEPT_FOR.total_seconds()
        for path in Path(self.baseFilename).parent.glob(f"{_NAME}.*"):
            if path.stat().st_mtime < oldest:
                path.unlink(missing_ok=True)

    def _open(self) -> TextIOWrapper:
        return os.fdopen(
            os.open(self.baseFilename, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600),
            "a",
            encoding="utf-8",
        )


def _note_start() -> None:
    g.started_s = time.monotonic()


def _write(response: Response) -> Response:
    started_s = g.get("started_s", time.monotonic())
    asker, here = phone(), session()
    line = {
        "at": now_utc(),
        "from": request.remote_addr or "",
        "method": request.method,
        "path": request.path[:_LONGEST_PATH],
        "status": response.status_code,
        "ms": round((time.monotonic() - started_s) * 1000),
        "phone": asker.log_id if asker else "",
        "session": here.number if here else 0,
        "event": g.get("event", ""),
    }
    _logger.info(json.dumps(line))
    return response
