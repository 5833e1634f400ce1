"""Serving the trust page: an application of its own, in a thread, over plain HTTP."""

import threading

import waitress

from ..app import create_trust_app
from ..web.trust import Trust

THREADS = 4
#: Seconds after which a connection that says nothing is given up.
SILENT_S = 20
_LARGEST_HEADER_BYTES = 16 * 1024
_LARGEST_BODY_BYTES = 1024


class TrustServer:
    """The page, from now on until closed.

    :raises OSError: the port is taken.
    """

    def __init__(self, trust: Trust, host: str, port: int) -> None:
        self._server = waitress.create_server(
            create_trust_app(trust),
            host=host,
            port=port,
            threads=THREADS,
            ident=None,
            channel_timeout=SILENT_S,
            max_request_header_size=_LARGEST_HEADER_BYTES,
            max_request_body_size=_LARGEST_BODY_BYTES,
        )
        threading.Thread(target=self._server.run, name="trust page", daemon=True).start()

    def close(self) -> None:
        """Listen no more; the loop closes its own socket, since it may be waiting on it."""
        self._server.trigger.pull_trigger(self._server.close)
