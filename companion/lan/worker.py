"""What the serving process runs: the application, as long as the process that started it lives."""

import multiprocessing
import os
import signal
import threading

from flask import Flask

from .. import app


def create_app() -> Flask:
    """The application; the process ends by itself when its parent was killed.

    A worker left alone would hold the port and the records with nobody to renew its certificate.
    """
    threading.Thread(target=_end_with_parent, name="parent", daemon=True).start()
    return app.create_app()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os.kill(os.getpid(), signal.SIGTERM)
