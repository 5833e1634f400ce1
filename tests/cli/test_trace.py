"""``companion trace``: one code in, everything it leads to out."""

import json
from pathlib import Path

import pytest

from companion.cli import main
from companion.records import log
from tests.records.test_lineage import CAN, LOT, taken
from tests.records.test_office_log import CONTACT, cup, fresh
from tests.sample_rows import CUP, LOG_ID, lines


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A shop with one cup, mixed of one lot of hardener."""
    folder = tmp_path / "shop"
    folder.mkdir()
    store = fresh(folder / "companion.sqlite3")
    log.append(store, LOG_ID, lines([*cup(), taken(6)]), CONTACT)
    store.close()
    return folder


def asked(data: Path, code: str, capsys: pytest.CaptureFixture[str]) -> dict:
    assert main(["trace", code, "--json", "--demo", "--data", str(data)]) == 0
    answer: dict = json.loads(capsys.readouterr().out)
    return answer


def test_a_cup_as_json(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(data, CUP.lower(), capsys)
    assert (answer["code"], answer["planned"]) == (CUP, False)
    assert (answer["lot"], answer["container"], answer["part"]) == (None, None, None)
    (one,) = answer["cups"]
    # A 121.3 - 8.4 = 112.9 g, B 155.2 - 121.3 = 33.9 g; 33.9 / 112.9 / 0.3 - 1 by hand.
    assert (one["part_a_g"], one["part_b_g"]) == (112.9, 33.9)
    assert one["ratio_error"] == pytest.approx(0.000886, abs=1e-6)
    assert (one["verdict"], one["state"], one["rows"]) == ("in", "judged", 6)
    assert one["lots"] == [{"component": "b", "lot": LOT, "container": CAN}]
    assert (one["persons"], one["labels"], one["flags"]) == (["O"], [CUP], [])


def test_a_lot_as_json_and_as_text(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(data, LOT, capsys)
    assert [one["code"] for one in answer["lot"]["cups"]] == [CUP]
    assert answer["cups"] == []
    assert main(["trace", LOT, "--demo", "--data", str(data)]) == 0
    said = capsys.readouterr().out
    assert f"lot {LOT}: 1 cup\n  {CUP}, " in said
    assert "A 112.9 g, B 33.9 g, in" in said


def test_what_is_not_on_record_ends_with_code_2(
    data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["trace", "HL-9999", "--json", "--demo", "--data", str(data)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == "companion trace: code 'HL-9999' is not known here\n"
