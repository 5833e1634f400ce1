"""``serve``: demo and shop never share records."""

import sqlite3
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config
from companion.records.catalogue import identity, is_empty


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
