"""Connections that stall: nobody else waits for them, and they do not last for ever.

Expected of any server that phones leave in the middle of a sentence; the second is our own figure.
"""

import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from companion.web.intake import BODY_WITHIN_S
from tests.running import RunningServer
from tests.web.wire_talk import LOG, connected, head, heard, seconds_to_bundle

STALLED = 10
AT_MOST_S = 1.0
ROWS = f"POST /api/v1/logs/{LOG}/rows HTTP/1.1"
CSV = ("Content-Type: text/csv", "Content-Digest: sha-256=:x:", "Row-Count: 3")
FORM = "Content-Type: application/x-www-form-urlencoded"


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A server of this module alone."""
    server = RunningServer(tmp_path_factory.mktemp("stalled") / "data").start()
    yield server.port
    server.kill()


def beginnings(port: int) -> dict[str, bytes]:
    """What a client says before it says nothing more."""
    rows = head(port, ROWS, *CSV, "Content-Length: 1000")
    return {
        "nothing": b"",
        "half a line": b"GET /api",
        "half a header": head(port, "GET /api/v1/bundle HTTP/1.1")[:-2] + b"X-A: ",
        "no body": rows,
        "half a body": rows + b"format,log_id",
        "half a chunk": head(port, ROWS, *CSV, "Transfer-Encoding: chunked") + b"3e8\r\nformat",
        "half codes": head(
            port,
            "POST /api/v1/codes HTTP/1.1",
            "Content-Type: application/json",
            "Content-Length: 100",
        )
        + b"{",
        "half a form": head(port, "POST /plan HTTP/1.1", FORM, "Content-Length: 100") + b"system=",
        "half a file": head(
            port,
            "POST /import HTTP/1.1",
            "Content-Type: multipart/form-data; boundary=b",
            "Content-Length: 9000000",
        )
        + b"--b\r\n",
        "a body to a GET": head(port, "GET /api/v1/health HTTP/1.1", "Content-Length: 100") + b"a",
        # Asks for a large file and reads nothing of it.
        "no ear": head(port, "GET /static/vendor/zxing/reader/zxing_reader.wasm HTTP/1.1") * 3,
    }


@pytest.mark.parametrize("kind", beginnings(0))
def test_a_phone_gets_its_bundle_beside_those_who_stall(port: int, kind: str) -> None:
    seconds_to_bundle(port)
    alone_s = min(seconds_to_bundle(port) for _ in range(3))
    with ExitStack() as stalled:
        for _ in range(STALLED):
            stalled.enter_context(connected(port, beginnings(port)[kind]))
        # Time enough for each of them to be taken up.
        time.sleep(0.2)
        beside_s = max(seconds_to_bundle(port) for _ in range(3))
    print(f"{kind}: alone {alone_s * 1000:.0f} ms, beside {STALLED} {beside_s * 1000:.0f} ms")
    assert beside_s < AT_MOST_S


def test_a_body_that_does_not_come_is_given_up(port: int) -> None:
    start = time.monotonic()
    got = heard(port, beginnings(port)["half a body"])
    assert got.statuses == (408,) and got.closed
    assert b"urn:companion:problem:too_slow" in got.text
    assert b"content-security-policy" in got.text.lower()
    assert BODY_WITHIN_S - 1 < time.monotonic() - start < BODY_WITHIN_S + 3


def test_a_body_that_comes_in_pieces_is_taken(port: int) -> None:
    body = b'{"log_id": "%s"}' % LOG.encode()
    length = f"Content-Length: {len(body)}"
    sent = head(port, "POST /api/v1/codes HTTP/1.1", "Content-Type: application/json", length)
    with connected(port, sent) as talk:
        for byte in body:
            talk.sendall(bytes([byte]))
            time.sleep(0.01)
        assert talk.recv(65536).startswith(b"HTTP/1.1 200 ")


def test_a_phone_that_hangs_up_leaves_nothing_behind(port: int, tmp_path: Path) -> None:
    for _ in range(2 * STALLED):
        with connected(port, beginnings(port)["half a body"]):
            pass
    assert seconds_to_bundle(port) < AT_MOST_S
