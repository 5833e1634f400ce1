"""``companion labels``: sheets as PDF, and wrong input named in one line."""

import json
import shutil
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config
from companion.records import labels, plans
from companion.trade.codes import is_label
from tests.paper.raster import rasterise, read_zxing, words


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo workshop, made once; a test that changes it works on a copy."""
    folder = tmp_path_factory.mktemp("workshop") / "shop"
    open_store(Config(folder, demo=True)).close()
    return folder


@pytest.fixture
def data(workshop: Path, tmp_path: Path) -> Path:
    """A demo workshop of one test."""
    return Path(shutil.copytree(workshop, tmp_path / "shop"))


def printed(data: Path) -> set[str]:
    store = open_store(Config(data))
    try:
        return set(labels.printed(store))
    finally:
        store.close()


def planned(data: Path) -> list[str]:
    store = open_store(Config(data))
    try:
        return [plan.code for plan in plans.every(store)]
    finally:
        store.close()


def test_it_prints_planned_cups(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wanted, file = planned(data)[:2], tmp_path / "cups.pdf"
    arguments = ["labels", "--cups", *(code.lower() for code in wanted), "-o", str(file)]
    arguments += ["--data", str(data), "--start", "24"]
    assert main([*arguments, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer == {"file": str(file), "pages": 2, "codes": wanted}
    pages = rasterise(file.read_bytes(), tmp_path)
    assert [one.text for page in pages for one in read_zxing(page)] == wanted
    assert "B = 0.300 × A poured" in words(file.read_bytes(), tmp_path)
    assert printed(data) == set(wanted)


def test_it_prints_blank_labels_with_new_codes(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "blank.pdf"
    arguments = ["labels", "--blank", "5", "--sheet", "2x5", "--label", "99x55", "-o", str(file)]
    assert main([*arguments, "--gap", "2x0", "--json", "--data", str(data)]) == 0
    made = json.loads(capsys.readouterr().out)["codes"]
    assert len(set(made)) == 5 and all(is_label(code) for code in made)
    (page,) = rasterise(file.read_bytes(), tmp_path)
    assert sorted(one.text for one in read_zxing(page)) == sorted(made * 2)


def test_it_prints_containers_on_a_roll(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "cans.pdf"
    arguments = ["labels", "--containers", "RES3LS", "HRD2SM", "--roll", "62x29", "-o", str(file)]
    assert main([*arguments, "--data", str(data)]) == 0
    assert capsys.readouterr().out == f"{file}: labels 2, pages 2; print at 100 %\n"
    pages = rasterise(file.read_bytes(), tmp_path)
    assert [page.size for page in pages] == [(733, 343)] * 2
    assert [one.text for page in pages for one in read_zxing(page)] == ["RES3LS", "HRD2SM"]


WRONG = [
    (["--blank", "0"], "'0': allowed is 1 to 240"),
    (["--blank", "241"], "'241': allowed is 1 to 240"),
    (["--blank", "ten"], "'ten': allowed is 1 to 240"),
    (["--blank", "\u0663"], "allowed is 1 to 240"),
    ([], "one of the arguments --cups --blank --containers is required"),
    (["--blank", "1", "--cups", "7K2QMS"], "not allowed with"),
    (["--cups", "7K2QMS"], "--cups '7K2QMS' is not known here"),
    (["--cups", "7K2QMT"], "--cups is 7K2QMT: allowed is a code of six characters"),
    (["--containers", "7K20MS"], "--containers is 7K20MS"),
    (["--containers", "7K2QMS"], "--containers '7K2QMS' is not known here"),
    (["--blank", "1", "--sheet", "3"], "'3': allowed is columns x rows such as 3x8"),
    (["--blank", "1", "--sheet", "2.5x8"], "allowed is columns x rows"),
    (["--blank", "1", "--label", "70,5x37"], "allowed is two measures in mm"),
    (["--blank", "1", "--label", "-70x37"], "--label"),
    (["--blank", "1", "--label", "80x37"], "label width 80: allowed is label width"),
    (["--blank", "1", "--sheet", "3x9"], "--label is label height 37"),
    (["--blank", "1", "--sheet", "8x8"], "--sheet is columns 8: allowed is columns 1 to 4"),
    (["--blank", "1", "--start", "25"], "--start is start 25: allowed is start 1 to 24"),
    (["--blank", "1", "--start", "0"], "'0': allowed is a whole number from 1"),
    (["--blank", "1", "--roll", "62x29", "--start", "2"], "--start with it"),
    (["--blank", "1", "--roll", "50x20"], "--roll is page height 20"),
    (["--blank", "1", "--sheet", "1x1", "--page", "100x20"], "page height 20"),
]


@pytest.mark.parametrize(("arguments", "words"), WRONG, ids=[" ".join(a) for a, _ in WRONG])
def test_wrong_input_is_named_in_one_line(
    workshop: Path,
    tmp_path: Path,
    arguments: list[str],
    words: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    file = tmp_path / "none.pdf"
    command = ["labels", *arguments, "--data", str(workshop), "-o", str(file)]
    try:
        code = main(command)
    except SystemExit as ended:
        code = ended.code
    assert code == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1 and words in said.err
    assert not file.exists() and printed(workshop) == set()


def test_a_file_that_cannot_be_written_is_no_label_made(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "nowhere" / "x.pdf"
    command = ["labels", "--cups", planned(data)[0], "--data", str(data), "-o", str(file)]
    assert main(command) == 1
    assert "nowhere" in capsys.readouterr().err
    assert printed(data) == set()
