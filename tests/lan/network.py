"""A shop on its network: a server over TLS, and browsers that trust it or do not."""

import http.client
import json
import os
import signal
import socket
import ssl
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.conftest import CHROMIUM_FLAGS

START_WITHIN_S = 60.0
#: Not under .local, so that no test speaks to the network it happens to run in.
NAME = "companion.test"


def free_pair() -> int:
    """A port nobody listens on, and neither on the one after."""
    for _ in range(100):
        with socket.socket() as first, socket.socket() as second:
            first.bind(("0.0.0.0", 0))
            port: int = first.getsockname()[1]
            try:
                second.bind(("0.0.0.0", port + 1))
            except (OSError, OverflowError):
                continue
            return port
    raise RuntimeError("no two free ports side by side")


@dataclass(frozen=True)
class Answer:
    """One answer over HTTP."""

    status: int
    headers: http.client.HTTPMessage
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode()

    def json(self) -> Any:
        return json.loads(self.body)


class LanServer:
    """``companion serve --lan`` on a folder and ports of its own."""

    def __init__(
        self,
        data_dir: Path,
        *,
        name: str = NAME,
        demo: bool = True,
        port: int | None = None,
        options: tuple[str, ...] = (),
    ) -> None:
        self.data_dir = data_dir
        self.name = name
        self.demo = demo
        self.port = port or free_pair()
        self.options = options
        self.url = f"https://{name}:{self.port}"
        self.trust_port = self.port + 1
        self.trust_url = f"http://{name}:{self.trust_port}"
        self.log = data_dir.parent / f"{data_dir.name}.log"
        self.said: dict[str, Any] = {}
        self.process: subprocess.Popen[str] | None = None

    @property
    def folder(self) -> Path:
        """Folder of address and certificates."""
        return self.data_dir / "lan"

    @property
    def authority(self) -> Path:
        """Certificate of the authority, PEM."""
        return self.folder / "authority.pem"

    def command(self) -> list[str]:
        """The command that serves."""
        command = [sys.executable, "-m", "companion", "serve", "--lan", "--json"]
        command += ["--name", self.name, "--port", str(self.port), "--data", str(self.data_dir)]
        return [*command, *(["--demo"] if self.demo else []), *self.options]

    def start(self) -> "LanServer":
        """Start and wait until it answers over TLS."""
        with self.log.open("ab") as output:
            self.process = subprocess.Popen(
                self.command(),
                stdout=subprocess.PIPE,
                stderr=output,
                text=True,
                start_new_session=True,
            )
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        if not line:
            self.kill()
            raise RuntimeError(f"the server did not start: {self.log.read_text()}")
        self.said = json.loads(line)
        deadline = time.monotonic() + START_WITHIN_S
        while not self.answers():
            if self.process.poll() is not None or time.monotonic() > deadline:
                self.kill()
                raise RuntimeError(f"the server did not answer: {self.log.read_text()}")
            time.sleep(0.05)
        return self

    def answers(self) -> bool:
        """Whether it answers now, with a certificate of its authority."""
        try:
            return self.get("/api/v1/health").status == 200
        except (OSError, http.client.HTTPException):
            return False

    def connect(self) -> ssl.SSLSocket:
        """A connection as a phone that trusts the authority makes it."""
        context = ssl.create_default_context(cafile=self.authority)
        plain = socket.create_connection(("127.0.0.1", self.port), timeout=10)
        return context.wrap_socket(plain, server_hostname=self.name)

    def request(self, method: str, path: str, body: bytes | None = None, **headers: str) -> Answer:
        """Ask over TLS, by name; underscores in names of headers are hyphens."""
        connection = http.client.HTTPSConnection(self.name, self.port)
        connection.sock = self.connect()
        return self._ask(connection, method, path, body, headers)

    def get(self, path: str, **headers: str) -> Answer:
        """Ask for a page over TLS."""
        return self.request("GET", path, **headers)

    def trust(self, path: str, method: str = "GET", **headers: str) -> Answer:
        """Ask the trust page's own port, over plain HTTP."""
        connection = http.client.HTTPConnection(self.name, self.trust_port)
        connection.sock = socket.create_connection(("127.0.0.1", self.trust_port), timeout=10)
        return self._ask(connection, method, path, None, headers)

    @staticmethod
    def _ask(
        connection: http.client.HTTPConnection,
        method: str,
        path: str,
        body: bytes | None,
        headers: dict[str, str],
    ) -> Answer:
        try:
            named = {name.replace("_", "-"): value for name, value in headers.items()}
            connection.request(method, path, body, named)
            response = connection.getresponse()
            return Answer(response.status, response.headers, response.read())
        finally:
            connection.close()

    def signal(self, number: int) -> None:
        """A signal to the process that was started, and to no other."""
        assert self.process is not None
        self.process.send_signal(number)

    def stop(self) -> int:
        """Ask it to end; the exit code."""
        self.signal(signal.SIGTERM)
        return self.ended()

    def kill(self) -> None:
        """SIGKILL to the server and every process it started."""
        if self.process is not None:
            try:
                os.killpg(self.process.pid, signal.SIGKILL)
            except ProcessLookupError:
                pass
            self.ended()

    def ended(self) -> int:
        """Wait until it has ended; the exit code."""
        assert self.process is not None and self.process.stdout is not None
        code = self.process.wait(timeout=30)
        self.process.stdout.close()
        self.process = None
        return code


def home(folder: Path, authority: Path | None = None) -> Path:
    """A home folder for a browser, whose certificate store holds an authority or is empty."""
    store = folder / ".pki" / "nssdb"
    store.mkdir(parents=True)
    subprocess.run(
        ["certutil", "-d", f"sql:{store}", "-N", "--empty-password"],
        check=True,
        capture_output=True,
    )
    if authority:
        subprocess.run(
            ["certutil", "-d", f"sql:{store}", "-A", "-t", "C,,", "-n", "shop", "-i", authority],
            check=True,
            capture_output=True,
        )
    return folder


def browser_options(folder: Path, *names: str) -> dict[str, Any]:
    """Options of a Chromium that lives in a home of its own and finds names on this machine.

    For ``launch`` and ``launch_persistent_context``; the last rule of names counts.
    """
    rules = ", ".join(f"MAP {name} 127.0.0.1" for name in names)
    resolver = f"--host-resolver-rules={rules}, MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"
    return {"args": [*CHROMIUM_FLAGS, resolver], "env": {**os.environ, "HOME": str(folder)}}
