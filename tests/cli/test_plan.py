"""``companion plan``: the hatch cover as a file, and files that are none."""

import json
from pathlib import Path

import pytest

from companion.app import open_store
from companion.cli import main
from companion.config import Config

JOB = {
    "job": "14",
    "part": "hatch cover",
    "serial": "HC-014",
    "area_m2": 0.34,
    "resin_mass_fraction": 0.48,
    "surface_coat": {"system": "SRF-A+SRF-B", "coat_g_m2": 350, "tools_g": 10},
    "plies": [
        {"cloth": "C200", "areal_weight_g_m2": 200},
        {"cloth": "C400", "areal_weight_g_m2": 400, "layers": 2},
        {"cloth": "C200", "areal_weight_g_m2": 200},
    ],
    "peel_ply_g_m2": 40,
    "tools_g": 25,
    "loss_per_cup_g": 8,
    "system": "RES-L+HRD-S",
    "fibre_density_g_cm3": 1.80,
    "resin_density_g_cm3": 1.15,
}
TOML = """
job = "14"
part = "hatch cover"
area_m2 = 0.34
resin_mass_fraction = 0.48
peel_ply_g_m2 = 40
tools_g = 25
loss_per_cup_g = 8
system = "RES-L+HRD-S"
[surface_coat]
system = "SRF-A+SRF-B"
coat_g_m2 = 350
tools_g = 10
[[plies]]
cloth = "C200"
areal_weight_g_m2 = 200
[[plies]]
cloth = "C400"
areal_weight_g_m2 = 400
layers = 2
[[plies]]
cloth = "C200"
areal_weight_g_m2 = 200
"""


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("plan") / "data"
    open_store(Config(folder, demo=True)).close()
    return folder


def planned(data: Path, file: Path, *more: str) -> int:
    return main(["plan", str(file), "--demo", "--data", str(data), *more])


def job_file(tmp_path: Path, **changes: object) -> Path:
    path = tmp_path / "job.json"
    body = {name: value for name, value in {**JOB, **changes}.items() if value != "leave out"}
    path.write_text(json.dumps(body), encoding="utf-8")
    return path


@pytest.mark.parametrize("kind", ["json", "toml"])
def test_the_hatch_cover_comes_out_as_worked_by_hand(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    path = tmp_path / f"job.{kind}"
    path.write_text(TOML if kind == "toml" else json.dumps(JOB), encoding="utf-8")
    assert planned(data, path, "--json") == 0
    answer = json.loads(capsys.readouterr().out)
    coat, *laminate = answer["cups"]
    rounded = [{k: round(c[k], 1) for k in ("part_a_g", "part_b_g", "total_g")} for c in laminate]
    assert rounded == [{"part_a_g": 112.6, "part_b_g": 33.8, "total_g": 146.4}] * 3
    assert round(coat["total_g"], 1) == 137.0
    assert (round(coat["part_a_g"], 1), round(coat["part_b_g"], 1)) == (97.9, 39.1)
    assert {c["system"].partition("@")[0] for c in laminate} == {"RES-L+HRD-S"}
    figures = ("reinforcement_g", "laminate_resin_g", "peel_ply_g", "subtotal_g")
    assert [round(answer[name], 1) for name in figures] == [408.0, 376.6, 13.6, 415.2]
    assert round(answer["fibre_volume_fraction"], 3) == 0.409
    assert round(answer["thickness_mm"], 2) == 1.63
    assert round(answer["fibre_mass_fraction"], 6) == 0.52
    assert round(answer["total_g"], 1) == round(439.2 + 137.0, 1)


def test_it_says_the_same_in_words(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(data, job_file(tmp_path)) == 0
    said = capsys.readouterr().out
    assert "1. surface coat, SRF-A+SRF-B@" in said
    assert "part A 112.6 g, part B 33.8 g, total 146.4 g, plies 1, 2" in said
    assert "fibre by volume 40.9%" in said and "1.63 mm" in said
    assert said.rstrip().endswith("The data sheet of the system decides; this is arithmetic.")


def test_two_cups_are_refused_with_the_nearest_that_work(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(data, job_file(tmp_path, cups=2)) == 2
    said = capsys.readouterr().err
    assert "2 cups of 215.6 g" in said and "3 of 146.4 g" in said


def test_a_small_part_is_answered_with_the_smallest_cup(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    small = {"area_m2": 0.01, "tools_g": 3, "surface_coat": None, "plies": JOB["plies"][:1]}  # type: ignore[index]
    assert planned(data, job_file(tmp_path, **small), "--json") == 2
    said = capsys.readouterr()
    nearest = json.loads(said.out)["refused"]["nearest"]
    assert (nearest["cups"], nearest["each_g"], nearest["least_cup_g"]) == (1, 20.9, 20.9)
    assert "more than needed" in said.err and nearest["surplus_g"] > 0
    taken = job_file(tmp_path, **small, least_cup_g=20.9)
    assert planned(data, taken, "--json") == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["surplus_g"] == pytest.approx(nearest["surplus_g"])
    assert answer["total_g"] == 20.9 and "left_over" in answer["cautions"]
    assert planned(data, taken) == 0
    assert f"left over {answer['surplus_g']:.1f} g" in capsys.readouterr().out


def test_plies_are_layers_as_on_the_lay_up_sheet(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(data, job_file(tmp_path), "--json") == 0
    coat, *laminate = json.loads(capsys.readouterr().out)["cups"]
    assert [cup["plies"] for cup in (coat, *laminate)] == [[], [0, 1], [1, 2], [2, 3]]
    many = [{"cloth": "C", "areal_weight_g_m2": 200, "layers": 150}] * 2
    assert planned(data, job_file(tmp_path, plies=many)) == 2
    assert "plies is 300: allowed is 1 to 200" in capsys.readouterr().err
    none = [{"cloth": "C", "areal_weight_g_m2": 200, "layers": 0}]
    assert planned(data, job_file(tmp_path, plies=none)) == 2
    assert "layers is 0: allowed is 1 to 200" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        main(["plan", "--help"])
    assert "Plies are layers" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    "changes, words",
    [
        ({"area_m2": -0.34}, "area_m2 is -0.34"),
        ({"area_m2": "0.34"}, "area_m2 is 0.34: allowed is a number"),
        ({"area_m2": True}, "area_m2 is True: allowed is a number"),
        ({"area_m2": "leave out"}, "area_m2 is missing"),
        ({"resin_mass_fraction": 1}, "resin_mass_fraction is 1: allowed is 0.05 to 0.95"),
        ({"plies": []}, "plies is 0: allowed is 1 to 200"),
        ({"plies": [JOB["plies"][0]] * 10_000}, "plies is 10000"),  # type: ignore[index]
        ({"plies": "C200"}, "plies is C200: allowed is a list"),
        ({"plies": [{"cloth": "C200"}]}, "plies[0].areal_weight_g_m2 is missing"),
        ({"plies": [{"cloth": "C", "areal_weight_g_m2": 2, "layers": 1.5}]}, "a whole number"),
        ({"system": "elsewhere"}, "system is elsewhere: allowed is "),
        ({"colour": "red"}, "colour is red: allowed is job, part"),
        ({"surface_coat": 7}, "surface_coat is 7: allowed is fields with names"),
        ({"part": "x" * 81}, "part is xxx"),
    ],
)
def test_a_job_that_cannot_be_is_refused_by_its_field(
    data: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    changes: dict[str, object],
    words: str,
) -> None:
    assert planned(data, job_file(tmp_path, **changes)) == 2
    assert words in capsys.readouterr().err


@pytest.mark.parametrize("content", [b"\xff", b"[]", b"{", b"[" * 100_000, b"x" * 1_100_000])
def test_a_file_that_is_no_job_is_refused(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes
) -> None:
    path = tmp_path / "job.json"
    path.write_bytes(content)
    assert planned(data, path) == 2
    assert "file is " in capsys.readouterr().err


def test_a_scale_nobody_has_is_refused(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(data, job_file(tmp_path), "--scale", "S9") == 2
    assert "--scale is S9: allowed is S1, S2" in capsys.readouterr().err


def test_a_hot_shop_is_named_where_a_card_has_no_pot_life(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(data, job_file(tmp_path), "--temperature", "30") == 0
    assert "its largest cup could not be made smaller; expect heat" in capsys.readouterr().out
