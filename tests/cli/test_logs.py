"""``export`` and ``import``: the records in a person's hands."""

import json
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config
from companion.wire.log_csv import write_log
from tests.sample_rows import CUP, LOG_ID, row, three_rows


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A folder with empty records."""
    open_store(Config(tmp_path / "shop")).close()
    return tmp_path / "shop"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A log as a phone shares it."""
    path = tmp_path / "phone.csv"
    path.write_bytes(write_log(three_rows()).encode())
    return path


def test_an_imported_log_is_exported_byte_for_byte(
    data: Path, file: Path, tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["import", str(file), "--data", str(data)]) == 0
    assert b"3 stored, 0 duplicate, 0 conflict, 0 quarantined" in capfdbinary.readouterr().out
    assert main(["import", str(file), "--data", str(data), "--json"]) == 0
    answer = json.loads(capfdbinary.readouterr().out)
    assert (answer["stored"], answer["duplicate"], answer["aside"]) == (0, 3, [])
    assert main(["export", "--data", str(data)]) == 0
    assert capfdbinary.readouterr().out == file.read_bytes()
    copy = tmp_path / "copy.csv"
    assert main(["export", "--data", str(data), "--log", LOG_ID, "-o", str(copy)]) == 0
    assert copy.read_bytes() == file.read_bytes()
    assert main(["export", "--data", str(data), "--cup", CUP.lower()]) == 0
    assert capfdbinary.readouterr().out == file.read_bytes()


def test_a_strange_row_is_named_and_the_others_are_kept(
    data: Path, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_bytes(write_log([row(1), row(2, value="12,5"), row(3)]).encode())
    assert main(["import", str(file), "--data", str(data)]) == 0
    said = capsys.readouterr().out
    assert "2 stored, 0 duplicate, 0 conflict, 1 quarantined" in said
    assert "line 3: quarantined, value" in said


def test_a_file_that_ends_in_the_middle_of_a_row_keeps_the_whole_rows(
    data: Path, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_bytes(file.read_bytes()[:-20])
    assert main(["import", str(file), "--data", str(data)]) == 0
    assert "2 stored" in capsys.readouterr().out


def test_wrong_input_is_named_in_one_line(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = tmp_path / "broken.csv"
    broken.write_text("<html>")
    for arguments, code, word in (
        (["import", str(broken), "--data", str(data)], 2, "column"),
        (["import", str(tmp_path / "none.csv"), "--data", str(data)], 1, "none.csv"),
        (["export", "--data", str(tmp_path / "nowhere")], 2, "nowhere"),
        (["health", "--data", str(tmp_path / "nowhere")], 2, "nowhere"),
    ):
        assert main(arguments) == code
        said = capsys.readouterr()
        assert said.out == "" and said.err.count("\n") == 1 and word in said.err
    assert not (tmp_path / "nowhere").exists()


def test_a_table_for_a_spreadsheet_in_the_manner_of_a_place(
    data: Path, file: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    main(["import", str(file), "--data", str(data)])
    capfdbinary.readouterr()
    table = ["export", "--people", "readings", "--no-bom", "--data", str(data)]
    assert main([*table, "--locale", "de"]) == 0
    header, *lines = capfdbinary.readouterr().out.decode().split("\r\n")
    assert header.startswith("cup;number;time;what;component;value;unit;")
    assert lines[1].startswith(f"{CUP};2;2026-03-07 11:02:00;weighed;cup;8,4;g;")
    assert main([*table, "--cup", CUP.lower()]) == 0
    assert b",8.4,g," in capfdbinary.readouterr().out


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--locale", "xx-yy"], "--locale is xx-yy"),
        (["--log", LOG_ID], "--log is"),
    ],
)
def test_a_table_that_cannot_be_made_is_refused(
    data: Path, options: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", "--people", "cups", "--data", str(data), *options]) == 2
    assert says in capsys.readouterr().err
