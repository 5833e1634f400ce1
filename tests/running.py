"""A real server in processes of its own, to be started, stopped and killed."""

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from typing import Any

START_WITHIN_S = 20.0


def free_port() -> int:
    """A port nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


class RunningServer:
    """``companion serve`` on a folder of its own."""

    def __init__(
        self,
        data_dir: Path,
        *,
        demo: bool = True,
        port: int | None = None,
        python: str = sys.executable,
        program: Path | None = None,
    ) -> None:
        """:param program: folder of an installed program that runs instead of this checkout."""
        self.data_dir = data_dir
        self.python = python
        self.demo = demo
        self.port = port or free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None
        self._program: dict[str, Any] = {}
        if program:
            self._program = {"cwd": program, "env": {**os.environ, "PYTHONPATH": str(program)}}

    def start(self) -> "RunningServer":
        """Start and wait until it answers."""
        command = [self.python, "-m", "companion", "serve", "--port", str(self.port)]
        command += ["--data", str(self.data_dir)] + (["--demo"] if self.demo else [])
        output = (self.data_dir.parent / f"{self.data_dir.name}.log").open("ab")
        self.process = subprocess.Popen(
            command, stdout=output, stderr=output, start_new_session=True, **self._program
        )
        output.close()
        deadline = time.monotonic() + START_WITHIN_S
        while not self.answers():
            if self.process.poll() is not None or time.monotonic() > deadline:
                raise RuntimeError(f"the server did not start, see {output.name}")
            time.sleep(0.05)
        return self

    def answers(self) -> bool:
        """Whether the server answers now."""
        try:
            with urllib.request.urlopen(f"{self.url}/api/v1/health", timeout=2):
                return True
        except OSError:
            return False

    def get(self, path: str) -> str:
        """Text of a page."""
        with urllib.request.urlopen(f"{self.url}{path}", timeout=10) as answer:
            text: str = answer.read().decode()
            return text

    def kill(self) -> None:
        """SIGKILL to the server and every process it started."""
        self._signal(signal.SIGKILL)

    def stop(self) -> None:
        """Ask it to end."""
        self._signal(signal.SIGTERM)

    def _signal(self, number: int) -> None:
        if self.process is None:
            return
        try:
            os.killpg(self.process.pid, number)
        except ProcessLookupError:
            pass
        self.process.wait(timeout=20)
        self.process = None
        deadline = time.monotonic() + 10
        while self.answers() and time.monotonic() < deadline:
            time.sleep(0.05)

    def command(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        """Run another command of the program on the same records."""
        return subprocess.run(
            [self.python, "-m", "companion", *arguments, "--data", str(self.data_dir)],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
            **self._program,
        )
