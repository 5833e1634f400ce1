"""What the serving process runs: the application, as long as the process that started it lives."""

import multiprocessing
import os
import signal
import threading

from ..app import create_intake as of_the_application
from ..web.intake import Intake


def create_intake() -> Intake:
    """The application; the process ends by itself when its parent was killed.

    A worker left alone would hold the port and the records, and nobody would know how to stop it.
    """
    threading.Thread(target=_end_with_parent, name="parent", daemon=True).start()
    return of_the_application()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os.kill(os.getpid(), signal.SIGTERM)
