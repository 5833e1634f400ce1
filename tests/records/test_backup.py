"""Backups: made while others write, proven before they are called good."""

import errno
import os
import sqlite3
import stat
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from companion.errors import NotProven, OutOfRange
from companion.records import backup, contents, files
from companion.records.store import Store, integrity_problems, sqlite_url
from tests.records.shop_records import add, fill, mint, opened, rows_digest

NOON = datetime(2026, 3, 8, 12, tzinfo=UTC)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """Records with three rows and ten codes."""
    made = opened(tmp_path / "companion.sqlite3")
    add(made, range(1, 4))
    mint(made, 10)
    yield made
    made.close()


def held(file: Path) -> list[tuple[object, ...]]:
    """All rows of a file, read without this program."""
    with sqlite3.connect(f"file:{file}?mode=ro", uri=True) as connection:
        return connection.execute("SELECT * FROM rows ORDER BY number").fetchall()


def test_it_is_the_records_under_a_name_that_tells_its_time(store: Store, tmp_path: Path) -> None:
    made = backup.back_up(store, tmp_path / "to", NOON)
    file = tmp_path / "to" / "companion-20260308T120000Z.sqlite3"
    assert (made.file, made.rows, made.made_at) == (str(file), 3, "2026-03-08T12:00:00.000Z")
    assert made.sha256 == files.sha256_of(file)
    assert held(file) == held(tmp_path / "companion.sqlite3")
    assert list(file.parent.iterdir()) == [file]
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700
    assert backup.last_proven(store) == made
    assert backup.is_as_proven(made)


def test_it_tells_when_the_file_is_no_longer_what_was_proven(store: Store, tmp_path: Path) -> None:
    made = backup.back_up(store, tmp_path / "to", NOON)
    with Path(made.file).open("r+b") as file:
        file.seek(5000)
        file.write(b"x")
    assert not backup.is_as_proven(made)
    Path(made.file).unlink()
    assert not backup.is_as_proven(made)


@pytest.mark.parametrize(
    ("harm", "says"),
    [
        ("DELETE FROM rows WHERE number = 2", "per_log; tables|per_log; content of the rows"),
        ("UPDATE rows SET value = '121.6' WHERE number = 3", "content of the rows"),
        ("DELETE FROM codes WHERE code IN (SELECT code FROM codes LIMIT 1)", "tables"),
        ("UPDATE alembic_version SET version_num = '9999'", "records"),
    ],
)
def test_a_copy_that_is_not_what_the_records_are_is_not_kept(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, harm: str, says: str
) -> None:
    copy = files.copy

    def copy_with_harm(source: Path, target: Path) -> None:
        copy(source, target)
        connection = sqlite3.connect(target)
        with connection:
            connection.execute(harm)
        connection.close()

    monkeypatch.setattr(files, "copy", copy_with_harm)
    with pytest.raises((NotProven, OutOfRange), match=says):
        backup.back_up(store, tmp_path / "to", NOON)
    assert list((tmp_path / "to").iterdir()) == []
    assert backup.last_proven(store) is None


def test_a_damaged_copy_is_not_kept(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = files.copy
    for at, harm in ((0, b"SQLite format 2\0"), (4096, b"\x5a" * 40_000)):

        def copy_with_harm(source: Path, target: Path, at: int = at, harm: bytes = harm) -> None:
            copy(source, target)
            with target.open("r+b") as file:
                file.seek(at)
                file.write(harm)

        monkeypatch.setattr(files, "copy", copy_with_harm)
        with pytest.raises(NotProven, match="the copy is not what the records are"):
            backup.back_up(store, tmp_path / "to", NOON)
        assert list((tmp_path / "to").iterdir()) == []


def test_a_full_disk_leaves_nothing_that_looks_good(store: Store, tmp_path: Path) -> None:
    add(store, range(4, 400))
    # The largest file this process may write stands for the room that is left.
    script = (
        "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000))\n"
        "import sys; from companion.cli import main; sys.exit(main(sys.argv[1:]))"
    )
    command = [sys.executable, "-c", script, "backup", "--data", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 1
    assert done.stderr.startswith("companion backup: ") and done.stderr.count("\n") == 1
    assert list((tmp_path / "backups").iterdir()) == []


def test_only_older_files_of_our_own_names_are_removed(store: Store, tmp_path: Path) -> None:
    folder = tmp_path / "to"
    for hours in range(4):
        made = backup.back_up(store, folder, NOON + timedelta(hours=hours))
    strangers = ["companion-20200101T000000Z.sqlite3.txt", "my-companion.sqlite3", "notes.txt"]
    for name in strangers:
        (folder / name).touch()
    removed = backup.keep_newest(store, made, 2)
    assert sorted(file.name[10:25] for file in removed) == ["20260308T120000", "20260308T130000"]
    assert {file.name for file in folder.iterdir()} == {
        *strangers,
        "companion-20260308T140000Z.sqlite3",
        "companion-20260308T150000Z.sqlite3",
    }


def test_backups_of_other_records_and_of_a_clock_that_is_behind_stay(
    store: Store, tmp_path: Path
) -> None:
    folder = tmp_path / "to"
    others = Store(f"sqlite:///{tmp_path / 'others.sqlite3'}")
    others.migrate()
    theirs = backup.back_up(others, folder, NOON)
    others.close()
    backup.back_up(store, folder, NOON + timedelta(hours=1))
    behind = backup.back_up(store, folder, NOON - timedelta(days=9000))
    removed = backup.keep_newest(store, behind, 1)
    assert [file.name for file in removed] == ["companion-20260308T130000Z.sqlite3"]
    assert {str(file) for file in folder.iterdir()} == {theirs.file, behind.file}


def test_a_folder_that_cannot_be_synced_is_no_failure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_number: int) -> None:
        raise OSError(errno.EINVAL, "Invalid argument")

    monkeypatch.setattr(os, "fsync", refuse)
    files.sync_folder(tmp_path)


def test_what_a_killed_backup_left_is_removed_once_it_is_old(store: Store, tmp_path: Path) -> None:
    folder = tmp_path / "to"
    folder.mkdir()
    old, young = (folder / f"companion-{name}Z.sqlite3.partial" for name in ("1", "2"))
    old.touch()
    young.touch()
    os.utime(old, (time.time() - 86400,) * 2)
    backup.back_up(store, folder, NOON)
    assert not old.exists() and young.exists()


def test_two_in_one_second_and_a_folder_that_is_none_are_refused(
    store: Store, tmp_path: Path
) -> None:
    made = backup.back_up(store, tmp_path / "to", NOON)
    with pytest.raises(OutOfRange, match="one backup a second"):
        backup.back_up(store, tmp_path / "to", NOON)
    assert backup.is_as_proven(made)
    with pytest.raises(OutOfRange, match="a folder"):
        backup.back_up(store, Path(made.file), NOON)


def test_it_holds_a_whole_beginning_of_the_log_while_another_process_writes(
    tmp_path: Path,
) -> None:
    database = tmp_path / "companion.sqlite3"
    store = opened(database)
    add(store, [1])
    fill(store, 19_999)
    with subprocess.Popen(
        [sys.executable, "-m", "tests.records.writer", str(database), "20001"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as writer:
        assert writer.stdout and writer.stdin
        writer.stdout.readline()
        made = []
        for minute in range(3):
            made.append(backup.back_up(store, tmp_path / "to", NOON + timedelta(minutes=minute)))
            # It goes on between two backups.
            writer.stdout.readline()
        writer.stdin.close()
        written = writer.stdout.read().split()
    assert writer.returncode == 0
    all_rows = held(database)
    assert len(all_rows) == int(written[-1])
    sizes = [one.rows for one in made]
    assert 20_000 < sizes[0] < sizes[1] < sizes[2] < len(all_rows)
    for one in made:
        assert one.rows % 5 == 0
        assert held(Path(one.file)) == all_rows[: one.rows]
    store.close()


def test_a_digest_covers_every_column_and_the_order_in_parts_as_in_one(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    add(store, range(4, 10))
    whole = rows_digest(store)
    monkeypatch.setattr(contents, "_AT_ONCE", 2)
    assert rows_digest(store) == whole
    assert contents.digest(store, 8) != whole
    seen = {whole}
    for column in ("note", "extra", "received_at", "clock_offset_ms", "seq"):
        with store.write() as connection:
            connection.exec_driver_sql(f"UPDATE rows SET {column} = 77 WHERE number = 5")
        seen.add(rows_digest(store))
    assert len(seen) == 6


def test_lines_that_refer_to_nothing_are_found(tmp_path: Path) -> None:
    file = tmp_path / "any.sqlite3"
    connection = sqlite3.connect(file)
    connection.executescript(
        "CREATE TABLE can (code TEXT PRIMARY KEY);"
        "CREATE TABLE pour (can TEXT REFERENCES can(code)); INSERT INTO pour VALUES ('X')"
    )
    connection.close()
    store = Store(sqlite_url(file))
    assert integrity_problems(store) == ["lines of pour that refer to nothing"]
    store.close()
