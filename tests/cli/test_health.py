"""``health``: what it finds, what it warns of, and that it says so in words."""

import json
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec

from companion.app import open_store
from companion.cli import main
from companion.cli.health_words import lines, warnings
from companion.config import Config
from companion.records import backup, log, pairing
from companion.records.store import Store, sqlite_url
from companion.trade.times import format_utc
from companion.wire.log_csv import read_log, write_log
from tests.golden.replay import GOLDEN
from tests.sample_rows import LOG_ID, OTHER_LOG_ID, row, three_rows
from tests.sample_rows import lines as wire_lines

NOW = datetime.now(UTC)
PRESENT_KEYS = {
    "sound",
    "problems",
    "server_id",
    "epoch",
    "demo",
    "rows",
    "set_aside",
    "phones",
    "sqlite_version",
    "sqlite_note",
    "disk_free_bytes",
}
Ask = Callable[[], dict[str, Any]]


def ago(days: float) -> datetime:
    return NOW - timedelta(days=days)


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A folder with three rows in it."""
    folder = tmp_path / "shop"
    store = open_store(Config(folder))
    log.append(store, LOG_ID, wire_lines(three_rows()), log.Contact(format_utc(ago(12.5)), "app"))
    store.close()
    return folder


@pytest.fixture
def store(data: Path) -> Any:
    """The same, opened."""
    opened = Store(sqlite_url(data / "companion.sqlite3"))
    yield opened
    opened.close()


@pytest.fixture
def ask(data: Path, capsys: pytest.CaptureFixture[str]) -> Ask:
    """What it answers to a machine."""

    def asked() -> dict[str, Any]:
        capsys.readouterr()
        assert main(["health", "--data", str(data), "--json"]) == 0
        answer: dict[str, Any] = json.loads(capsys.readouterr().out)
        return answer

    return asked


def test_it_tells_whether_the_records_are_sound(ask: Ask) -> None:
    answer = ask()
    assert set(answer) >= PRESENT_KEYS
    assert answer["sound"] is True and answer["problems"] == []
    assert (answer["rows"], answer["set_aside"], answer["demo"]) == (3, 0, False)
    assert answer["phones"][0]["log_id"] == LOG_ID
    assert answer["sqlite_version"] and answer["disk_free_bytes"] > 0


def test_it_says_when_the_records_are_damaged(
    data: Path, store: Store, capsys: pytest.CaptureFixture[str]
) -> None:
    many = read_log(write_log([row(n, note="x" * 500) for n in range(4, 400)]).encode())
    log.append(store, LOG_ID, many, log.Contact(format_utc(NOW)))
    store.close()
    database = data / "companion.sqlite3"
    damaged = bytearray(database.read_bytes())
    # Behind the first pages, which hold what tables there are.
    damaged[150_000:180_000] = b"\x5a" * 30_000
    database.write_bytes(damaged)
    capsys.readouterr()
    assert main(["health", "--data", str(data), "--json"]) == 1
    said = capsys.readouterr()
    assert said.err == ""
    answer = json.loads(said.out)
    assert answer["sound"] is False and answer["problems"]
    assert answer["warnings"][0] == "The records are damaged: put a backup back."
    assert main(["health", "--data", str(data)]) == 1
    assert capsys.readouterr().out.startswith("The records are damaged.\n")


def test_it_warns_of_a_backup_that_is_none_old_or_gone(ask: Ask, store: Store, data: Path) -> None:
    none = "There is no proven backup: make one with companion backup."
    answer = ask()
    assert answer["last_backup"] is None and none in answer["warnings"]
    backup.back_up(store, data / "backups", ago(8.5))
    answer = ask()
    assert answer["last_backup"]["days"] == 8
    assert "The last proven backup is 8 days old." in answer["warnings"]
    made = backup.back_up(store, data / "backups", ago(7.5))
    answer = ask()
    assert answer["last_backup"]["as_proven"] is True and answer["warnings"] == []
    Path(made.file).write_bytes(b"")
    assert ask()["warnings"] == [f"The last backup is not at {made.file} any more, or was changed."]


def test_it_names_the_phone_that_was_not_heard_of_for_longest(ask: Ask, store: Store) -> None:
    code = pairing.ask_for(store, "blue", "", format_utc(ago(40)))
    assert pairing.pair(store, code, OTHER_LOG_ID, format_utc(ago(40)))
    answer = ask()
    oldest = answer["oldest_phone"]
    assert (oldest["name"], oldest["days"], oldest["log_id"]) == ("blue", 40, OTHER_LOG_ID)
    pairing.revoke(store, OTHER_LOG_ID, format_utc(NOW))
    oldest = ask()["oldest_phone"]
    assert (oldest["name"], oldest["days"], oldest["log_id"]) == ("", 12, LOG_ID)


def test_it_names_rows_that_are_missing(ask: Ask, store: Store) -> None:
    found = wire_lines([row(5), row(9)])
    log.append(store, LOG_ID, found, log.Contact(format_utc(NOW)))
    answer = ask()
    assert answer["phones"][0]["missing"] == [[4, 4], [6, 8]]
    assert f"Rows 4, 6 to 8 of the phone {LOG_ID} are missing." in answer["warnings"]


def test_rows_set_aside_count_as_open_until_they_are_decided(
    tmp_path: Path, ask: Ask, store: Store, capsys: pytest.CaptureFixture[str]
) -> None:
    log.append(store, LOG_ID, wire_lines([row(4, value="12,5")]), log.Contact(format_utc(NOW)))
    answer = ask()
    assert (answer["set_aside"], answer["set_aside_open"]) == (1, 1)
    # In the records of format 1 all were decided on but those the office has not looked at.
    folder = tmp_path / "golden"
    folder.mkdir()
    shutil.copy(GOLDEN / "format-1" / "records.sqlite3", folder / "companion.sqlite3")
    assert main(["health", "--json", "--demo", "--data", str(folder)]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["set_aside"] - answer["set_aside_open"] == 2


def certificate(file: Path, until: datetime) -> None:
    """A certificate for companion.local that ends then."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, "a test")])
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(1)
        .not_valid_before(until - timedelta(days=397))
        .not_valid_after(until)
        .add_extension(x509.SubjectAlternativeName([x509.DNSName("companion.local")]), False)
        .sign(key, hashes.SHA256())
    )
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(made.public_bytes(serialization.Encoding.PEM))


@pytest.mark.parametrize(
    ("days_left", "says"),
    [
        (61.5, ""),
        (60.5, "ends in 60 days."),
        (30.5, "ends in 30 days: renew it soon."),
        (7.5, "ends in 7 days: renew it now, or phones will not reach the server."),
        (1.5, "ends in 1 day: renew it now"),
        (-0.5, "ended: no phone reaches the server."),
    ],
)
def test_it_warns_before_the_certificate_ends(
    data: Path, ask: Ask, days_left: float, says: str
) -> None:
    assert ask()["certificate"] is None
    certificate(data / "lan" / "leaf.pem", datetime.now(UTC) + timedelta(days=days_left))
    answer = ask()
    assert answer["certificate"]["name"] == "companion.local"
    found = [text for text in answer["warnings"] if "certificate" in text]
    assert len(found) == (1 if says else 0)
    assert all(
        text.startswith("The certificate for companion.local ends in") for text in found[:-1]
    )
    assert says in "".join(found)


def test_a_certificate_that_cannot_be_read_and_one_named_by_the_environment(
    data: Path, ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (data / "lan").mkdir()
    (data / "lan" / "leaf.pem").write_text("half")
    assert "The certificate cannot be read." in ask()["warnings"]
    certificate(tmp_path / "proxy" / "leaf.pem", datetime.now(UTC) + timedelta(days=100.5))
    monkeypatch.setenv("COMPANION_CERTIFICATE", str(tmp_path / "proxy" / "leaf.pem"))
    assert ask()["certificate"]["days_left"] == 100


def test_little_room_on_the_disk_is_warned_of(ask: Ask) -> None:
    # No test can fill the disk it runs on: the figure is changed, the words are what is looked at.
    facts = ask()
    for free, warned in ((10**9, False), (10**9 - 1, True)):
        found = warnings({**facts, "disk_free_bytes": free})
        assert ("Only 999 MB of disk are free." in found) is warned


def test_in_words_it_is_one_line_a_fact(
    data: Path, ask: Ask, store: Store, capsys: pytest.CaptureFixture[str]
) -> None:
    backup.back_up(store, data / "backups", ago(1.5))
    certificate(data / "lan" / "leaf.pem", datetime.now(UTC) + timedelta(days=20.5))
    answer = ask()
    assert main(["health", "--data", str(data)]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "The records are sound."
    assert said[1] == f"A shop: server {answer['server_id']}, epoch {answer['epoch']}."
    assert said[2:6] == [
        "Rows: 3.",
        "Rows set aside: 0, still to be decided 0.",
        f"Phones: 1; longest without contact {LOG_ID}, 12 days.",
        f"Last proven backup: 1 day ago, 3 rows in {answer['last_backup']['file']}.",
    ]
    assert said[6] == f"Certificate for companion.local: until {answer['certificate']['until']}."
    assert said[-1] == (
        "Warning: The certificate for companion.local ends in 20 days: renew it soon."
    )
    assert list(lines(answer)) == [*said]


def test_records_that_do_not_even_open_are_told_of(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    database = tmp_path / "data" / "companion.sqlite3"
    database.parent.mkdir()
    database.write_bytes(b"SQLite format 3\0" + b"\x5a" * 8000)
    assert main(["health", "--json", "--data", str(database.parent)]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert not answer["sound"] and answer["problems"]
    assert answer["warnings"][0] == "The records are damaged: put a backup back."
