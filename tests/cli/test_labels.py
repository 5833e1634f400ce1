"""``companion labels``: sheets as PDF, and wrong input named in one line."""

import json
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config
from companion.lan import address
from companion.records import catalogue, labels, parts, plans
from companion.trade.cards import Container
from companion.trade.codes import is_label
from tests.paper.raster import rasterise, read_zxing, words

AT = "2026-03-07T10:00:00.000Z"


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


def part(data: Path, serial: str, job: str = "14") -> str:
    """Enter a part in the workshop."""
    store = open_store(Config(data))
    try:
        return parts.add(store, job, serial, AT)
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
    assert answer == {"file": str(file), "pages": 2, "codes": wanted, "unprinted": []}
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


def test_it_prints_parts(data: Path, tmp_path: Path) -> None:
    code, file = part(data, "HC-015"), tmp_path / "parts.pdf"
    assert main(["labels", "--parts", code.lower(), "-o", str(file), "--data", str(data)]) == 0
    (page,) = rasterise(file.read_bytes(), tmp_path)
    assert [one.text for one in read_zxing(page)] == [code]
    said = words(file.read_bytes(), tmp_path)
    assert "HC-015" in said and "Hatch cover 14" in said and "Job 14@2" in said
    assert printed(data) == {code}


@pytest.mark.parametrize(("job", "count"), [("14", 3), ("14@2", 3), ("15", 2)])
def test_it_prints_the_cups_of_one_job(data: Path, tmp_path: Path, job: str, count: int) -> None:
    file = tmp_path / "job.pdf"
    assert main(["labels", "--plan", job, "-o", str(file), "--data", str(data)]) == 0
    made = printed(data)
    assert len(made) == count
    store = open_store(Config(data))
    try:
        wanted = {plan.code for plan in plans.every(store) if plan.job.startswith(job)}
    finally:
        store.close()
    assert made == wanted


def test_it_speaks_the_language_asked_for(data: Path, tmp_path: Path) -> None:
    store = open_store(Config(data))
    try:
        can = Container(labels.take(store, 1, "", AT)[0], 1, "RES-L", "RL-1180", "2026-03-01")
        catalogue.put(store, can, AT)
    finally:
        store.close()
    file = tmp_path / "labels.pdf"
    said = {}
    for language in ("de", "en"):
        command = ["labels", "--language", language, "-o", str(file), "--data", str(data)]
        assert main([*command, "--plan", "14"]) == 0
        cups = words(file.read_bytes(), tmp_path)
        assert main([*command, "--containers", can.code]) == 0
        said[language] = cups + words(file.read_bytes(), tmp_path)
    # Decimal marks and months as Unicode's locale data have them (CLDR: de, en).
    for word in ("A 112,6 g", "B = 0,300 ×", "Becher", "Kürzel", "verwenden bis", "01.03.2026"):
        assert word in said["de"] and word not in said["en"]
    for word in ("A 112.6 g", "B = 0.300 × A poured", "use by", "Mar 1, 2026"):
        assert word in said["en"] and word not in said["de"]


def test_it_names_letters_that_cannot_be_printed(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, file = part(data, "船-7"), tmp_path / "parts.pdf"
    command = ["labels", "--parts", code, "-o", str(file), "--data", str(data)]
    assert main(command) == 0
    assert capsys.readouterr().err == "companion labels: printed as empty boxes: 船\n"
    assert main([*command, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["unprinted"] == ["船"]
    assert code in words(file.read_bytes(), tmp_path)


WRONG = [
    (["--blank", "0"], "'0': allowed is 1 to 240"),
    (["--blank", "241"], "'241': allowed is 1 to 240"),
    (["--blank", "ten"], "'ten': allowed is 1 to 240"),
    (["--blank", "\u0663"], "allowed is 1 to 240"),
    ([], "one of the arguments --cups --plan --blank --containers --parts is required"),
    (["--blank", "1", "--cups", "7K2QMS"], "not allowed with"),
    (["--cups", "7K2QMS"], "--cups '7K2QMS' is not known here"),
    (["--cups", "7K2QMT"], "--cups is 7K2QMT: allowed is a code of six characters"),
    (["--containers", "7K20MS"], "--containers is 7K20MS"),
    (["--containers", "7K2QMS"], "--containers '7K2QMS' is not known here"),
    (["--parts", "7K2QMS"], "--parts '7K2QMS' is not known here"),
    (["--parts", "7K2QMS", "--cups", "7K2QMS"], "not allowed with"),
    (["--plan", "16"], "--plan is 16: allowed is a job with planned cups that nobody has started"),
    (["--plan", "14@1"], "nobody has started: 14@2, 15@1"),
    (["--plan", ""], "--plan is : allowed is a job"),
    (["--blank", "1", "--language", "xx"], "'xx': allowed is en, de"),
    (["--blank", "1", "--language", "../de"], "'../de': allowed is en, de"),
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


@pytest.mark.parametrize("from_where", ["kept", "environment"])
def test_patterns_carry_the_address_of_a_shop_that_has_one(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, from_where: str
) -> None:
    code, host = planned(data)[0], "paddles.example:8443"
    if from_where == "kept":
        address.keep(data / "lan", address.Address("paddles.example", 8443), datetime.now(UTC))
    else:
        monkeypatch.setenv("COMPANION_ADDRESS", f"https://{host}")
    out = tmp_path / "labels.pdf"
    arguments = ["labels", "--cups", code, "--demo", "--data", str(data), "-o", str(out)]
    assert main(arguments) == 0
    (page,) = rasterise(out.read_bytes(), tmp_path)
    assert {found.text for found in read_zxing(page)} == {f"HTTPS://{host.upper()}/C/{code}"}
