"""Talking to a server byte by byte, as no well-behaved client would."""

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

LONGEST_WAIT_S = 20.0
LOG = "11111111-2222-4333-8444-555555555555"


@dataclass(frozen=True, slots=True)
class Heard:
    """What came back on one connection: status of each answer, all bytes, and whether it ended."""

    statuses: tuple[int, ...]
    text: bytes
    closed: bool


def head(port: int, line: str, *headers: str) -> bytes:
    """Beginning of a request from a page of the server's own origin."""
    own = f"127.0.0.1:{port}"
    return "\r\n".join([line, f"Host: {own}", f"Origin: http://{own}", *headers, "", ""]).encode()


@contextmanager
def connected(port: int, sent: bytes = b"") -> Iterator[socket.socket]:
    """A connection on which something was said."""
    with socket.create_connection(("127.0.0.1", port), timeout=LONGEST_WAIT_S) as talk:
        talk.sendall(sent)
        yield talk


def heard(port: int, sent: bytes, answers: int = 1) -> Heard:
    """Say something and listen: to the end, or until so many answers and a moment more."""
    with connected(port, sent) as talk:
        text, closed = b"", False
        while not closed:
            # One that has answered enough may still say more, or hang up.
            talk.settimeout(0.3 if text.count(b"HTTP/1.1 ") >= answers else LONGEST_WAIT_S)
            try:
                piece = talk.recv(65536)
            except TimeoutError:
                break
            except ConnectionResetError:
                piece = b""
            closed, text = not piece, text + piece
    lines = text.split(b"HTTP/1.1 ")[1:]
    return Heard(tuple(int(line[:3]) for line in lines), text, closed)


def seconds_to_bundle(port: int) -> float:
    """How long a phone waits for its bundle."""
    start = time.monotonic()
    got = heard(port, head(port, "GET /api/v1/bundle HTTP/1.1", "Connection: close"))
    assert got.statuses == (200,)
    return time.monotonic() - start
