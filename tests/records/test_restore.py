"""A backup in the place of the records: refused, merged, killed, and never with stale leftovers."""

import json
import shutil
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from companion.errors import OutOfRange
from companion.records import backup, catalogue, labels, log, pairing, passphrase, sessions
from companion.records.restore import Restored, restore
from companion.records.store import Store, integrity_problems, sqlite_url
from companion.wire.log_csv import read_log
from tests.golden.replay import GOLDEN
from tests.records.shop_records import (
    AT,
    add,
    codes,
    die_while_writing,
    fill,
    mint,
    opened,
    rows_digest,
)
from tests.sample_rows import LOG_ID, OTHER_LOG_ID, fresh_log_id, lines, row

NOON = datetime(2026, 3, 8, 12, tzinfo=UTC)
RUNS = 30


@dataclass(frozen=True)
class Shop:
    """Records that went on after their backup, closed."""

    database: Path
    backup: Path
    epoch: str
    server_id: str
    then: str
    now: str
    codes_then: set[str]
    codes_now: set[str]

    def restored(self, file: Path | None = None, **options: Any) -> Restored:
        options = {"demo": False, "other_server": False, "moment": NOON, **options}
        return restore(self.database, file or self.backup, **options)

    def beside(self, ending: str) -> Path:
        return self.database.with_name(self.database.name + ending)


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    database = tmp_path / "data" / "companion.sqlite3"
    store = opened(database)
    add(store, range(1, 4))
    codes_then, then = mint(store, 10), rows_digest(store)
    labels.mark_printed(store, sorted(codes_then)[:2], "2026-03-08T09:00:00.000Z")
    made = backup.back_up(store, tmp_path / "backups", NOON)
    add(store, range(4, 9))
    new = mint(store, 10)
    labels.mark_printed(store, [sorted(codes_then)[0], sorted(new)[0]], "2026-03-08T10:00:00.000Z")
    who = catalogue.identity(store)
    now = rows_digest(store)
    store.close()
    return Shop(
        database,
        Path(made.file),
        who.epoch,
        who.server_id,
        then,
        now,
        codes_then,
        codes_then | new,
    )


@pytest.fixture
def reopened(shop: Shop) -> Iterator[Store]:
    """The records of the shop, opened by the program when first used."""
    store = Store(sqlite_url(shop.database))
    yield store
    store.close()


def test_it_holds_what_the_backup_held_under_a_new_epoch_with_every_code_given_out(
    shop: Shop, reopened: Store
) -> None:
    done = shop.restored()
    assert (done.rows, done.server_id, done.demo) == (3, shop.server_id, False)
    assert (done.kept.codes, done.kept.sound) == (10, True)
    who = catalogue.identity(reopened)
    assert who.server_id == shop.server_id
    assert who.epoch == done.epoch != shop.epoch
    assert rows_digest(reopened) == shop.then != shop.now
    assert codes(reopened) == shop.codes_now > shop.codes_then
    first, second = sorted(shop.codes_then)[:2]
    late = sorted(shop.codes_now - shop.codes_then)[0]
    assert labels.printed(reopened) == {
        first: "2026-03-08T10:00:00.000Z",
        second: "2026-03-08T09:00:00.000Z",
        late: "2026-03-08T10:00:00.000Z",
    }
    proven = backup.last_proven(reopened)
    assert proven and backup.is_as_proven(proven)
    assert stat.S_IMODE(shop.database.stat().st_mode) == 0o600


def test_the_records_before_are_kept_as_they_were(shop: Shop) -> None:
    done = shop.restored()
    assert done.kept_aside == shop.database.with_name(
        "companion-before-restore-20260308T120000Z.sqlite3"
    )
    old = Store(sqlite_url(done.kept_aside))
    assert rows_digest(old) == shop.now
    assert catalogue.identity(old).epoch == shop.epoch
    old.close()
    # And they can be put back.
    again = shop.restored(done.kept_aside, moment=NOON + timedelta(minutes=1))
    assert again.rows == 8 and again.epoch not in (shop.epoch, done.epoch)


def test_nothing_else_is_left_beside_them(shop: Shop) -> None:
    shop.restored()
    found = {file.name for file in shop.database.parent.iterdir()}
    aside = "companion-before-restore-20260308T120000Z.sqlite3"
    lacking = "companion-not-in-backup-20260308T120000Z.csv"
    assert found <= {"companion.sqlite3", aside, f"{aside}-journal", lacking}


def test_rows_the_backup_lacks_are_handed_out_and_can_be_brought_back(
    shop: Shop, reopened: Store
) -> None:
    done = shop.restored()
    assert done.left_behind_in is not None and len(done.left_behind) == 5
    assert stat.S_IMODE(done.left_behind_in.stat().st_mode) == 0o600
    brought = read_log(done.left_behind_in.read_bytes())
    for _ in range(2):
        log.import_lines(reopened, brought, log.Contact("2026-03-08T13:00:00.000Z"))
    assert len(log.all_rows(reopened)) == 8
    # With nothing left behind there is no such file.
    again = shop.restored(done.kept_aside, moment=NOON + timedelta(minutes=1))
    assert again.left_behind == () and again.left_behind_in is None


def test_where_there_were_no_records_the_backup_makes_them(shop: Shop, tmp_path: Path) -> None:
    empty = tmp_path / "new machine" / "companion.sqlite3"
    empty.parent.mkdir()
    done = restore(empty, shop.backup, demo=False, other_server=False, moment=NOON)
    assert done.kept_aside is None and done.rows == 3
    store = Store(sqlite_url(empty))
    assert rows_digest(store) == shop.then
    store.close()


def stale_wal(shop: Shop, tmp_path: Path) -> bytes:
    """A write-ahead log of another life of these records, valid by its own checksums."""
    other = tmp_path / "other.sqlite3"
    shutil.copy(shop.backup, other)
    connection = sqlite3.connect(other, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("UPDATE rows SET note = 'from the stale log'")
    connection.execute("CREATE TABLE stale (x)")
    wal = other.with_name("other.sqlite3-wal").read_bytes()
    connection.close()
    return wal


def test_a_stale_write_ahead_log_is_not_replayed_into_them(
    shop: Shop, tmp_path: Path, reopened: Store
) -> None:
    wal = stale_wal(shop, tmp_path)
    # What SQLite would do with it.
    victim = tmp_path / "victim.sqlite3"
    shutil.copy(shop.backup, victim)
    victim.with_name("victim.sqlite3-wal").write_bytes(wal)
    connection = sqlite3.connect(victim)
    assert connection.execute("SELECT note FROM rows").fetchone() == ("from the stale log",)
    connection.close()

    shop.beside("-wal").write_bytes(wal)
    done = shop.restored()
    assert rows_digest(reopened) == shop.then
    assert integrity_problems(reopened) == []
    assert codes(reopened) == shop.codes_now
    assert not shop.beside("-wal").exists()
    assert done.kept_aside
    assert done.kept_aside.with_name(f"{done.kept_aside.name}-wal").read_bytes() == wal


def test_a_journal_of_a_killed_write_is_undone_in_the_old_and_not_in_the_new(
    shop: Shop, reopened: Store
) -> None:
    store = Store(sqlite_url(shop.database))
    fill(store, 500)
    now = rows_digest(store)
    store.close()
    die_while_writing(shop.database)
    done = shop.restored()
    assert rows_digest(reopened) == shop.then
    assert codes(reopened) == shop.codes_now
    assert done.kept_aside
    old = Store(sqlite_url(done.kept_aside))
    assert (rows_digest(old), codes(old)) == (now, shop.codes_now)
    old.close()


def test_old_records_that_are_damaged_are_replaced_and_give_what_can_be_read(
    shop: Shop, reopened: Store
) -> None:
    shop.database.write_bytes(b"no records at all" * 1000)
    done = shop.restored()
    assert (done.kept.codes, done.kept.sound) == (0, False)
    assert rows_digest(reopened) == shop.then
    assert done.kept_aside
    assert done.kept_aside.read_bytes() == b"no records at all" * 1000


def test_a_code_on_a_cup_is_not_given_out_again_though_it_was_never_minted_here(
    shop: Shop, reopened: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    reopened.migrate()
    log.append(reopened, LOG_ID, lines([row(9, cup="7K2QMS")]), log.Contact("2026-03-08T09:00Z"))
    drawn = iter(["7K2QMS", "9B3XWD"])
    monkeypatch.setattr(labels, "_draw", lambda: next(drawn))
    assert mint(reopened, 1) == {"9B3XWD"}


def pair(store: Store, name: str, log_id: str, replaces: str = "") -> str:
    code = pairing.ask_for(store, name, replaces, AT)
    made = pairing.pair(store, code, log_id, AT)
    assert made
    return made.token


@dataclass(frozen=True)
class Access:
    """Who may come in: tokens from before a backup, and what changed after it."""

    file: Path
    staying: str
    cut_off: str
    late: str
    session: str
    code: str


@pytest.fixture
def access(shop: Shop, tmp_path: Path) -> Access:
    store = Store(sqlite_url(shop.database))
    staying, cut_off = pair(store, "blue", OTHER_LOG_ID), pair(store, "red", LOG_ID)
    passphrase.choose(store, "old and long enough", AT)
    session = sessions.begin(store, "browser", AT)
    code = pairing.ask_for(store, "nobody", "", AT)
    made = backup.back_up(store, tmp_path / "to", NOON)
    pairing.revoke(store, LOG_ID, AT)
    late = pair(store, "green", fresh_log_id())
    passphrase.choose(store, "new and long enough", AT)
    store.close()
    return Access(Path(made.file), staying, cut_off, late, session, code)


def test_who_was_cut_off_stays_out_and_who_came_in_stays_in(
    shop: Shop, access: Access, reopened: Store
) -> None:
    assert shop.restored(access.file).kept.access
    phones = {
        name: pairing.recognised(reopened, token, AT)
        for name, token in (
            ("blue", access.staying),
            ("red", access.cut_off),
            ("green", access.late),
        )
    }
    assert {name: phone.name for name, phone in phones.items() if phone} == {
        name: name for name in phones
    }
    assert [name for name, phone in phones.items() if phone and phone.revoked_at] == ["red"]
    assert passphrase.fits(reopened, "new and long enough")
    assert not passphrase.fits(reopened, "old and long enough")
    assert sessions.recognised(reopened, access.session, AT) is None
    assert pairing.pair(reopened, access.code, fresh_log_id(), AT) is None


def test_who_may_come_in_at_another_server_is_not_taken_over(
    shop: Shop, access: Access, reopened: Store
) -> None:
    of_another_server(access.file)
    assert not shop.restored(access.file, other_server=True).kept.access
    assert pairing.recognised(reopened, access.late, AT) is None
    assert passphrase.fits(reopened, "old and long enough")


def damaged(file: Path) -> None:
    with file.open("r+b") as opened_file:
        opened_file.seek(4096)
        opened_file.write(b"\x5a" * 40_000)


def of_a_newer_version(file: Path) -> None:
    connection = sqlite3.connect(file)
    with connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.close()


def of_another_program(file: Path) -> None:
    file.unlink()
    connection = sqlite3.connect(file)
    with connection:
        connection.execute("CREATE TABLE server (server_id TEXT, demo BOOLEAN)")
    connection.close()


def of_another_server(file: Path) -> None:
    connection = sqlite3.connect(file)
    with connection:
        connection.execute("UPDATE server SET server_id = '0'")
    connection.close()


def of_a_demo(file: Path) -> None:
    connection = sqlite3.connect(file)
    with connection:
        connection.execute("UPDATE server SET demo = 1")
    connection.close()


def unfinished(file: Path) -> None:
    file.with_name(f"{file.name}-journal").write_bytes(b"begun")


@pytest.mark.parametrize(
    ("harm", "says"),
    [
        (damaged, "this one is damaged"),
        (lambda file: file.write_bytes(b""), "a sound backup"),
        (lambda file: file.write_bytes(b"SQLite format 3\0" + b"x" * 5000), "damaged"),
        (lambda file: file.write_text("log_id,seq\r\n"), "a sound backup made by this program"),
        (of_another_program, "a sound backup made by this program"),
        (of_a_newer_version, "this version or an older one; this one is newer"),
        (of_another_server, "--other-server"),
        (of_a_demo, "a backup of a real shop"),
        (unfinished, "a backup that is finished"),
    ],
)
def test_what_is_no_backup_of_these_records_is_refused_and_changes_nothing(
    shop: Shop, harm: Any, says: str
) -> None:
    harm(shop.backup)
    before = {file.name: file.read_bytes() for file in shop.database.parent.iterdir()}
    with pytest.raises(OutOfRange) as caught:
        shop.restored()
    assert says in str(caught.value) and caught.value.value == shop.backup
    assert {file.name: file.read_bytes() for file in shop.database.parent.iterdir()} == before


def test_the_records_themselves_and_a_link_to_them_are_no_backup(
    shop: Shop, tmp_path: Path
) -> None:
    link = tmp_path / "link.sqlite3"
    link.symlink_to(shop.database)
    for file in (shop.database, link):
        with pytest.raises(OutOfRange, match="another file than the records"):
            shop.restored(file)


def test_a_backup_of_another_server_is_taken_where_that_is_meant(
    shop: Shop, reopened: Store
) -> None:
    of_another_server(shop.backup)
    assert shop.restored(other_server=True).server_id == "0"
    assert codes(reopened) == shop.codes_now


def test_a_demo_is_not_put_where_no_records_say_what_they_were(shop: Shop) -> None:
    shop.database.unlink()
    with pytest.raises(OutOfRange, match="a backup of the demo workshop"):
        shop.restored(demo=True)


def test_records_of_format_1_are_a_backup_of_an_older_schema(tmp_path: Path) -> None:
    golden = GOLDEN / "format-1" / "records.sqlite3"
    before = golden.read_bytes()
    database = tmp_path / "companion.sqlite3"
    done = restore(database, golden, demo=True, other_server=False, moment=NOON)
    store = Store(sqlite_url(database))
    assert log.export(store).encode() == (golden.parent / "log.csv").read_bytes()
    assert done.rows == len(log.all_rows(store)) > 0
    # It is in today's schema now: what came later works.
    assert backup.back_up(store, tmp_path / "to", NOON).rows == done.rows
    store.close()
    assert golden.read_bytes() == before


def left_by_kills(shop: Shop, tmp_path: Path, *how: str) -> list[dict[str, Any]]:
    places = [str(shop.database), str(shop.backup), str(tmp_path / "killed")]
    command = [sys.executable, "-m", "tests.records.killed_restores", *places, *how]
    done = subprocess.run(command, capture_output=True, text=True, timeout=200, check=False)
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def is_old_or_new(left: dict[str, Any], shop: Shop, now: str) -> str:
    """Which of the two a killed restore left; fails if it is neither."""
    assert left["problems"] == []
    assert set(left["codes"]) == shop.codes_now
    if left["epoch"] == shop.epoch:
        assert left["rows"] == now
        return "old"
    assert left["rows"] == shop.then
    return "new"


@pytest.mark.parametrize("how", [("steps",), ("moments", str(RUNS))], ids=lambda how: how[0])
def test_a_restore_that_is_killed_leaves_the_old_records_or_the_new(
    shop: Shop, tmp_path: Path, how: tuple[str, ...]
) -> None:
    store = Store(sqlite_url(shop.database))
    fill(store, 500)
    now = rows_digest(store)
    store.close()
    # Also when the server was killed in the middle of a write before.
    die_while_writing(shop.database)
    left = left_by_kills(shop, tmp_path, *how)
    found = [is_old_or_new(one, shop, now) for one in left]
    if how[0] == "steps":
        killed = [what for what, one in zip(found, left, strict=True) if one["killed"]]
        whole = [what for what, one in zip(found, left, strict=True) if not one["killed"]]
        assert killed.count("old") > 10 and killed.count("new") >= 1
        assert set(whole) == {"new"}
        # First the old ones, then the new: there is one point at which it happens.
        assert killed == sorted(killed, reverse=True)
    else:
        assert len(found) == RUNS and "old" in found
