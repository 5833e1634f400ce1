"""``backup`` and ``restore``: what they say, what they refuse, and whose the files are."""

import json
import os
import stat
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config
from companion.records import backup
from companion.wire.log_csv import write_log
from tests.golden.replay import GOLDEN
from tests.running import RunningServer
from tests.sample_rows import three_rows


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """Records with three rows."""
    folder = tmp_path / "shop"
    open_store(Config(folder)).close()
    file = tmp_path / "phone.csv"
    file.write_bytes(write_log(three_rows()).encode())
    assert main(["import", str(file), "--data", str(folder)]) == 0
    return folder


def test_a_backup_lies_in_the_folder_of_the_records_and_says_that_it_is_good(
    data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert main(["backup", "--data", str(data)]) == 0
    [file] = (data / "backups").iterdir()
    first, second = capsys.readouterr().out.splitlines()
    assert first == f"3 rows in {file}"
    assert second.endswith("it is good.")


def test_with_keep_the_newest_stay(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "elsewhere"
    store = open_store(Config(data))
    days = [datetime(2026, 1, day, 12, tzinfo=UTC) for day in (1, 2)]
    old = [Path(backup.back_up(store, folder, day).file) for day in days]
    store.close()
    capsys.readouterr()
    arguments = ["backup", "--to", str(folder), "--keep", "2", "--json", "--data", str(data)]
    assert main(arguments) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["removed"] == [str(old[0])] and answer["rows"] == 3
    assert {file.name for file in folder.iterdir()} == {old[1].name, Path(answer["file"]).name}


def test_every_file_is_its_owners_alone(data: Path, tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        (data / "companion.sqlite3").chmod(0o644)
        assert main(["backup", "--data", str(data)]) == 0
        [file] = (data / "backups").iterdir()
        fresh = tmp_path / "fresh"
        assert main(["restore", str(file), "--data", str(fresh)]) == 0
        assert main(["restore", str(file), "--data", str(data)]) == 0
        open_store(Config(tmp_path / "new")).close()
        # A command leaves the rights of whoever called it alone.
        assert os.umask(0o022) == 0o022
    finally:
        os.umask(before)
    for folder in (data, fresh, tmp_path / "new"):
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700
        for path in folder.rglob("*"):
            assert stat.S_IMODE(path.stat().st_mode) == (0o700 if path.is_dir() else 0o600), path


def test_nothing_but_the_records_is_in_a_backup(
    data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (data / "lan").mkdir()
    (data / "lan" / "authority.key").write_text("the key of the authority")
    capsys.readouterr()
    assert main(["backup", "--json", "--data", str(data)]) == 0
    file = Path(json.loads(capsys.readouterr().out)["file"])
    assert b"the key of the authority" not in file.read_bytes()
    assert list(file.parent.iterdir()) == [file]


def test_it_says_what_happens_after_a_restore(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["backup", "--data", str(data)]) == 0
    [file] = (data / "backups").iterdir()
    capsys.readouterr()
    assert main(["restore", str(file), "--data", str(data)]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Restored: 3 rows of the server ")
    assert "The records before are kept as " in said and "companion-before-restore-" in said
    assert "Each phone sends by itself what the backup lacks" in said
    (data / "companion.sqlite3").write_bytes(b"\x5a" * 50_000)
    # A name tells its second.
    aside = next(data.glob("companion-before-restore-*.sqlite3"))
    aside.rename(tmp_path / aside.name)
    assert main(["restore", str(file), "--data", str(data)]) == 0
    assert "They are damaged;" in capsys.readouterr().out


def test_records_of_format_1_are_restored_and_opened(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    golden = GOLDEN / "format-1" / "records.sqlite3"
    folder = str(tmp_path / "new")
    assert main(["restore", str(golden), "--demo", "--json", "--data", folder]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["kept_aside"] is None and answer["rows"] > 0
    assert main(["export", "--demo", "--data", folder]) == 0
    assert capsys.readouterr().out.startswith("format,log_id")


def test_wrong_input_is_named_in_one_line(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = tmp_path / "log.csv"
    text.write_text("format,log_id\r\n")
    demo = GOLDEN / "format-1" / "records.sqlite3"
    capsys.readouterr()
    for arguments, code, word in (
        (["restore", str(text)], 2, "a sound backup made by this program"),
        (["restore", str(tmp_path / "none.sqlite3")], 1, "none.sqlite3"),
        (["restore", str(demo)], 2, "a backup of a real shop"),
        (["restore", str(data / "companion.sqlite3")], 2, "another file"),
        (["backup", "--to", str(text)], 2, "a folder"),
    ):
        assert main([*arguments, "--data", str(data)]) == code, arguments
        said = capsys.readouterr()
        assert said.out == "" and said.err.count("\n") == 1 and word in said.err
    for count in ("0", "-1", "x", "1.5"):
        with pytest.raises(SystemExit) as caught:
            main(["backup", "--keep", count])
        assert caught.value.code == 2
        assert "allowed is a whole number, at least 1" in capsys.readouterr().err
    assert main(["backup", "--data", str(tmp_path / "nowhere")]) == 2
    assert not (tmp_path / "nowhere").exists()


def test_no_restore_while_a_server_runs_and_no_second_server(own_server: RunningServer) -> None:
    made = own_server.command("backup", "--json")
    file = json.loads(made.stdout)["file"]
    refused = own_server.command("restore", file)
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "is taken by a server that is running; stop it first" in refused.stderr
    assert refused.stderr.count("\n") == 1
    second = own_server.command("serve", "--demo", "--port", "1")
    assert second.returncode == 2 and "is taken by a server that is running" in second.stderr
    assert own_server.answers()
    # Killed, it lets go.
    own_server.kill()
    assert own_server.command("restore", file).returncode == 0
    own_server.start()
