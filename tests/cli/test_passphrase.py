"""``companion passphrase``: set by whoever sits at the machine."""

import json
import os
import pty
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config
from companion.records import passphrase, sessions
from companion.records.store import Store
from companion.web.state import now_utc

WORDS = "eleven paddles in a row"


@pytest.fixture
def data(tmp_path: Path) -> Path:
    open_store(Config(tmp_path / "data")).close()
    return tmp_path / "data"


def opened(data: Path) -> Store:
    return open_store(Config(data))


def test_it_reads_the_passphrase_from_the_input(
    data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    store = opened(data)
    sessions.begin(store, "a browser", now_utc())
    monkeypatch.setattr("sys.stdin", StringIO(f"{WORDS}\r\nsecond line\n"))
    assert main(["passphrase", "--stdin", "--json", "--data", str(data)]) == 0
    assert json.loads(capsys.readouterr().out) == {"set": True}
    assert passphrase.fits(store, WORDS)
    assert sessions.going_on(store, now_utc()) == []
    store.close()


def test_a_short_one_is_refused_and_not_repeated(
    data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", StringIO("short\n"))
    assert main(["passphrase", "--stdin", "--data", str(data)]) == 2
    said = capsys.readouterr().err
    assert "passphrase" in said and "5 characters" in said and "8 to 200" in said
    assert "short" not in said
    store = opened(data)
    assert not passphrase.is_set(store)
    store.close()


def test_it_makes_a_code_for_the_browser(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["passphrase", "--code", "--json", "--data", str(data)]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["path"] == "/passphrase" and len(answer["code"]) == 10
    store = opened(data)
    assert passphrase.choose_with_code(store, answer["code"], WORDS, now_utc())
    store.close()


@pytest.mark.parametrize("second, status", [(WORDS, 0), ("eleven paddles in a boat", 2)])
def test_at_a_terminal_it_asks_twice_and_shows_nothing(
    data: Path, second: str, status: int
) -> None:
    parent, child = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "companion", "passphrase", "--data", str(data)],
        stdin=child,
        stdout=child,
        stderr=child,
        start_new_session=True,
        # Without a terminal of its own it asks on what it is given.
    )
    os.close(child)
    said = _until(parent, b"New passphrase: ")
    os.write(parent, f"{WORDS}\n".encode())
    said += _until(parent, b"once more: ")
    os.write(parent, f"{second}\n".encode())
    said += _rest(parent)
    assert process.wait(timeout=20) == status
    os.close(parent)
    assert WORDS.encode() not in said and second.encode() not in said
    store = opened(data)
    assert passphrase.is_set(store) == (status == 0)
    store.close()


def _until(terminal: int, words: bytes) -> bytes:
    said = b""
    while words not in said:
        said += os.read(terminal, 1000)
    return said


def _rest(terminal: int) -> bytes:
    said = b""
    try:
        while part := os.read(terminal, 1000):
            said += part
    except OSError:
        # The other end is closed: the command is over.
        pass
    return said
