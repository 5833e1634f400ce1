"""How long a request waits behind ten connections that stall before their handshake.

The peer is the development server of werkzeug over TLS with the same certificate and the same
application, started in the same run; it does the handshake in its accepting loop, as several
servers do. ``python -m tests.benchmarks.stalled_connections`` prints both and their ratio.
"""

import socket
import ssl
import subprocess
import sys
import tempfile
import time
from contextlib import ExitStack
from pathlib import Path

from companion.lan import leaf
from tests.lan.network import LanServer, free_pair

STALLED, TRIES = 10, 5
#: A request that took longer counts as this long.
AT_MOST_S = 20.0

PEER = """
import sys
from pathlib import Path
from werkzeug.serving import run_simple
from companion.app import create_app
from companion.config import Config
data, address, port, certificate, key = sys.argv[1:]
app = create_app(Config(Path(data), demo=True, address=address))
run_simple("127.0.0.1", int(port), app, threaded=True, ssl_context=(certificate, key))
"""


def seconds(port: int, name: str, authority: Path) -> float:
    """One request over a new connection."""
    began = time.monotonic()
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=AT_MOST_S) as plain:
            trust = ssl.create_default_context(cafile=authority)
            with trust.wrap_socket(plain, server_hostname=name) as line:
                request = f"GET /api/v1/health HTTP/1.1\r\nHost: {name}:{port}\r\n"
                line.sendall(f"{request}Connection: close\r\n\r\n".encode())
                assert line.recv(100).startswith(b"HTTP/1.1 ")
    except TimeoutError:
        return AT_MOST_S
    return time.monotonic() - began


def median_s(port: int, name: str, authority: Path) -> float:
    """Median of a few requests behind connections that say nothing."""
    with ExitStack() as stalled:
        for _ in range(STALLED):
            stalled.enter_context(socket.create_connection(("127.0.0.1", port), timeout=5))
        time.sleep(0.3)
        return sorted(seconds(port, name, authority) for _ in range(TRIES))[TRIES // 2]


def main() -> None:
    """Measure both, one after the other."""
    with tempfile.TemporaryDirectory() as folder:
        ours = LanServer(Path(folder) / "data").start()
        port = free_pair()
        files = [str(ours.folder / name) for name in (leaf.CERTIFICATE, leaf.KEY)]
        address = f"https://{ours.name}:{port}"
        arguments = [str(Path(folder) / "peer"), address, str(port), *files]
        peer = subprocess.Popen([sys.executable, "-c", PEER, *arguments], stderr=subprocess.DEVNULL)
        try:
            while True:
                try:
                    if seconds(port, ours.name, ours.authority) < AT_MOST_S:
                        break
                except OSError:
                    time.sleep(0.1)
            here = median_s(ours.port, ours.name, ours.authority)
            there = median_s(port, ours.name, ours.authority)
        finally:
            peer.kill()
            peer.wait()
            ours.kill()
    print(f"ours {here * 1000:.0f} ms, peer {there * 1000:.0f} ms, ratio {here / there:.5f}")


if __name__ == "__main__":
    main()
