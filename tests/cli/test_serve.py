"""``serve``: demo and shop never share records."""

import signal
import socket
import sqlite3
import time
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config
from companion.records.catalogue import identity, is_empty
from tests.running import RunningServer


def test_demo_records_are_not_served_as_a_shop(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    open_store(Config(tmp_path, demo=True)).close()
    assert main(["serve", "--data", str(tmp_path)]) == 2
    assert "allowed is the demo workshop, with --demo" in capsys.readouterr().err


def test_a_shop_never_gets_invented_cards(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    open_store(Config(tmp_path)).close()
    assert main(["serve", "--demo", "--data", str(tmp_path)]) == 2
    assert "allowed is a real shop, without --demo" in capsys.readouterr().err
    store = open_store(Config(tmp_path, demo=True))
    assert is_empty(store) and not identity(store).demo
    store.close()


def test_records_of_a_later_version_are_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:

    open_store(Config(tmp_path)).close()
    database = sqlite3.connect(tmp_path / "companion.sqlite3")
    with database:
        database.execute("UPDATE alembic_version SET version_num = '9999'")
    database.close()
    assert main(["serve", "--data", str(tmp_path)]) == 2
    assert "records this version knows" in capsys.readouterr().err


def test_a_port_is_never_shared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        assert main(["serve", "--port", port, "--data", str(tmp_path)]) == 1
    assert f"port {port} is taken by another program" in capsys.readouterr().err


def test_a_killed_server_leaves_nothing_running(tmp_path: Path) -> None:
    server = RunningServer(tmp_path / "data").start()
    assert server.process is not None
    # The process that was started, and not its whole group.
    server.process.send_signal(signal.SIGKILL)
    server.process.wait(timeout=20)
    deadline = time.monotonic() + 20
    while server.answers():
        assert time.monotonic() < deadline, "a worker is left behind"
        time.sleep(0.05)
    RunningServer(tmp_path / "data", port=server.port).start().kill()
