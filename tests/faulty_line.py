"""A line between phone and server that can lose, replace, delay or repeat what passes.

It forwards whole HTTP messages, so that a fault can be put exactly where it hurts: after the
server has kept the rows and before the phone has heard of it.
"""

import http.client
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

LOGIN_PAGE = b"<!doctype html><title>Welcome</title><form><input name=room><button>Log in</button>"
DELAY_S = 20.0

#: What may happen to the answer to a post of rows.
FAULTS = (
    "lost",
    "login_page",
    "delayed",
    "sent_twice",
    "login_page_instead",
    "cut_json",
    "error_500",
)


class FaultyLine:
    """A listening port that forwards to a server; ``fault`` names what goes wrong with a post."""

    def __init__(self, target_port: int) -> None:
        self.target_port = target_port
        self.fault = ""
        self.faults_done = 0
        #: path that is answered with an error.
        self.refused_path = ""
        #: path -> what becomes of the body that passes.
        self.rewrite: dict[str, Callable[[bytes], bytes]] = {}
        handler = type("LineHandler", (_Handler,), {"line": self})
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self._server.daemon_threads = True
        self.port = self._server.server_address[1]
        self.url = f"http://127.0.0.1:{self.port}"

    def forward(
        self, request: BaseHTTPRequestHandler, body: bytes
    ) -> tuple[int, list[tuple[str, str]], bytes]:
        """Hand a request to the server and return its answer."""
        connection = http.client.HTTPConnection("127.0.0.1", self.target_port, timeout=30)
        try:
            headers = {name: value for name, value in request.headers.items()}
            connection.request(request.command, request.path, body, headers)
            response = connection.getresponse()
            return response.status, response.getheaders(), response.read()
        except OSError:
            return 502, [("Content-Type", "text/plain")], b"no server"
        finally:
            connection.close()

    @contextmanager
    def running(self) -> Iterator["FaultyLine"]:
        """Serve until the block ends."""
        thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        thread.start()
        try:
            yield self
        finally:
            self._server.shutdown()
            self._server.server_close()


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    line: FaultyLine

    def do_GET(self) -> None:
        if self.path == self.line.refused_path:
            self.line.faults_done += 1
            return self._answer(503, [("Content-Type", "text/plain")], b"not now")
        status, headers, body = self.line.forward(self, b"")
        change = self.line.rewrite.get(self.path, lambda unchanged: unchanged)
        self._answer(status, headers, change(body))

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length", "0")))
        if self.path == self.line.refused_path:
            self.line.faults_done += 1
            self._answer(503, [("Content-Type", "text/plain")], b"not now")
        elif self.line.fault and self.path.endswith("/rows"):
            self.line.faults_done += 1
            self._fail(self.line.fault, body)
        else:
            self._answer(*self.line.forward(self, body))

    def _fail(self, fault: str, body: bytes) -> None:
        if fault == "login_page_instead":
            return self._answer(200, [("Content-Type", "text/html")], LOGIN_PAGE)
        status, headers, answer = self.line.forward(self, body)
        if fault == "lost":
            self.close_connection = True
            return self.connection.shutdown(socket.SHUT_RDWR)
        if fault == "login_page":
            return self._answer(200, [("Content-Type", "text/html")], LOGIN_PAGE)
        if fault == "sent_twice":
            return self._answer(*self.line.forward(self, body))
        if fault == "cut_json":
            return self._answer(status, headers, answer[: len(answer) // 2])
        if fault == "error_500":
            return self._answer(500, [("Content-Type", "text/plain")], b"oops")
        time.sleep(DELAY_S)
        self._answer(status, headers, answer)

    def _answer(self, status: int, headers: list[tuple[str, str]], body: bytes) -> None:
        own = ("content-length", "transfer-encoding", "connection")
        try:
            self.send_response(status)
            for name, value in headers:
                if name.lower() not in own:
                    self.send_header(name, value)
            if status != 304:
                self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)
        except OSError:
            # The phone has given up waiting: that is the fault being tested.
            self.close_connection = True

    def log_message(self, format: str, *arguments: object) -> None:
        """Keep the output of the tests quiet."""
