"""``companion mix``: the worked example, every stage of a cup, and wrong input."""

import json
import math
import subprocess
import sys
from typing import Any

import pytest

from companion.cli import main

KEYS = [
    "part_a_g",
    "part_b_g",
    "display_stop_g",
    "accept_g",
    "ratio_error_pct",
    "uncertainty_pct",
    "verdict",
    "top_up",
    "smallest_cup_g",
]


def mix(capsys: pytest.CaptureFixture[str], *options: str) -> dict[str, Any]:
    assert main(["mix", "--ratio", "100:30", "--total", "146.4", *options, "--json"]) == 0
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert list(answer) == KEYS
    return answer


def test_it_gives_the_worked_example(capsys: pytest.CaptureFixture[str]) -> None:
    # Arithmetic of MX-05 and WM-07 in tests/cases on the over-poured hatch cover cup.
    answer = mix(
        capsys, "--readability", "0.1", "--tolerance", "2", "--cup", "8.4", "--a", "113.1",
        "--b", "37.0",
    )  # fmt: skip
    assert answer["part_a_g"] == pytest.approx(112.61538, abs=1e-4)
    assert answer["part_b_g"] == pytest.approx(33.93)
    assert answer["display_stop_g"] == pytest.approx(168.7333, abs=1e-4)
    assert answer["accept_g"] is None
    assert answer["ratio_error_pct"] == pytest.approx(9.0481, abs=1e-4)
    assert answer["uncertainty_pct"] == pytest.approx(0.288, abs=5e-4)
    assert answer["verdict"] == "out"
    assert answer["top_up"]["component"] == "a"
    assert answer["top_up"]["add_g"] == pytest.approx(10.2333, abs=1e-4)
    assert answer["top_up"]["display_stop_g"] == pytest.approx(168.7333, abs=1e-4)
    assert answer["top_up"]["total_g"] == pytest.approx(160.3333, abs=1e-4)
    assert answer["smallest_cup_g"] == pytest.approx(20.857, abs=5e-4)


def test_it_plans_part_a_first(capsys: pytest.CaptureFixture[str]) -> None:
    answer = mix(capsys, "--cup", "8.4")
    assert answer["display_stop_g"] == pytest.approx(8.4 + 146.4 / 1.3)
    for name in KEYS[3:]:
        assert answer[name] is None


def test_it_follows_the_part_a_really_poured(capsys: pytest.CaptureFixture[str]) -> None:
    answer = mix(capsys, "--cup", "8.4", "--a", "113.1", "--readability", "0.1")
    assert answer["display_stop_g"] == pytest.approx(155.43)
    assert answer["accept_g"] == pytest.approx([154.7514, 156.1086])
    assert answer["verdict"] is None and answer["top_up"] is None


def test_it_asks_for_nothing_more_once_the_cup_is_in(capsys: pytest.CaptureFixture[str]) -> None:
    answer = mix(capsys, "--a", "113.1", "--b", "34.0", "--readability", "0.1")
    assert answer["verdict"] == "in"
    assert answer["display_stop_g"] is None and answer["top_up"] is None


def test_a_lean_cup_is_topped_up_with_b(capsys: pytest.CaptureFixture[str]) -> None:
    # MX-04: 200 A + 55 B at 0.3 lacks 5 g B.
    answer = mix(capsys, "--a", "200", "--b", "55", "--readability", "0.1", "--cup", "10")
    assert answer["top_up"] == pytest.approx(
        {"component": "b", "add_g": 5.0, "display_stop_g": 270.0, "total_g": 260.0}
    )
    assert answer["accept_g"] == pytest.approx([10 + 200 + 58.8, 10 + 200 + 61.2])


@pytest.mark.parametrize(
    "b, verdict",
    [("30.1", "in"), ("30.58", "in_unproven"), ("30.62", "out_unproven"), ("32", "out")],
)
def test_it_knows_the_four_states(capsys: pytest.CaptureFixture[str], b: str, verdict: str) -> None:
    # U is 0.32 % at 100 + 30 g on a running display of 0.1 g (WM-07).
    assert mix(capsys, "--a", "100", "--b", b, "--readability", "0.1")["verdict"] == verdict


def test_without_a_scale_nothing_is_proven(capsys: pytest.CaptureFixture[str]) -> None:
    answer = mix(capsys, "--a", "113.1", "--b", "34.0")
    assert (answer["verdict"], answer["uncertainty_pct"]) == ("in_unproven", None)
    answer = mix(capsys, "--a", "113.1", "--b", "37.0")
    assert answer["verdict"] == "out_unproven"
    assert answer["top_up"]["add_g"] == pytest.approx(10.2333, abs=1e-4)


def test_it_rounds_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    main("mix --ratio 100:30 --total 146.4 --readability 0.1 --cup 8.4 --a 113.1 --b 37".split())
    assert capsys.readouterr().out.splitlines() == [
        "part A 112.6 g, part B 33.9 g",
        "pour until the display shows 168.7 g",
        "out: ratio error +9.05 % ± 0.29 % (k = 2), hardener-rich",
        "add 10.2 g of part A: total 160.3 g",
        "smallest cup this scale can judge 20.9 g, from the display step only",
        "The data sheet of the system decides; this is arithmetic.",
    ]
    main("mix --ratio 100:30 --total 146.4 --readability 0.1 --cup 8.4 --a 113.1".split())
    assert "in tolerance from 154.8 g to 156.1 g" in capsys.readouterr().out


WRONG = {
    "no ratio": ("mix --total 100", "--ratio"),
    "no total": ("mix --ratio 100:30", "--total"),
    "ratio without a colon": ("mix --ratio 30 --total 100", "--ratio: '30'"),
    "ratio of nothing": ("mix --ratio 100:0 --total 100", "--ratio: '100:0'"),
    "ratio by words": ("mix --ratio two:one --total 100", "--ratio: 'two:one'"),
    "ratio of three": ("mix --ratio 100:30:8 --total 100", "--ratio: '100:30:8'"),
    "total of nothing": ("mix --ratio 100:30 --total 0", "--total: '0'"),
    "negative total": ("mix --ratio 100:30 --total -5", "--total: '-5'"),
    "total with a comma": ("mix --ratio 100:30 --total 146,4", "--total: '146,4'"),
    "total in words": ("mix --ratio 100:30 --total much", "--total: 'much'"),
    "total nan": ("mix --ratio 100:30 --total nan", "--total: 'nan'"),
    "total inf": ("mix --ratio 100:30 --total inf", "--total: 'inf'"),
    "total with an exponent": ("mix --ratio 100:30 --total 1e2", "--total: '1e2'"),
    "step of nothing": ("mix --ratio 100:30 --total 9 --readability 0", "--readability: '0'"),
    "tolerance of all": ("mix --ratio 100:30 --total 9 --tolerance 100", "--tolerance: '100'"),
    "tolerance of nothing": ("mix --ratio 100:30 --total 9 --tolerance 0", "--tolerance: '0'"),
    "negative cup": ("mix --ratio 100:30 --total 9 --cup -1", "--cup: '-1'"),
    "b without a": ("mix --ratio 100:30 --total 9 --b 3", "--b is 3 without --a"),
    "a of nothing": ("mix --ratio 100:30 --total 9 --a 0", "--a: '0'"),
    "b of nothing": ("mix --ratio 100:30 --total 9 --a 3 --b 0", "--b: '0'"),
    "unknown option": ("mix --ratio 100:30 --total 9 --colour red", "--colour"),
    "unknown command": ("stir", "stir"),
    "port of nothing": ("serve --port 0", "--port: '0'"),
    "port too high": ("serve --port 99999", "--port: '99999'"),
}  # fmt: skip


@pytest.mark.parametrize("arguments, names", WRONG.values(), ids=WRONG.keys())
def test_wrong_input_ends_with_2_and_one_line(
    arguments: str, names: str, capsys: pytest.CaptureFixture[str]
) -> None:
    try:
        code: object = main(arguments.split())
    except SystemExit as ending:
        code = ending.code
    said = capsys.readouterr()
    assert code == 2
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert names in said.err
    assert (
        "allowed" in said.err
        or "required" in said.err
        or "unrecognized" in said.err
        or ("choose from" in said.err)
    )


def test_the_command_runs_as_a_program() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "companion", "mix", "--ratio", "100:30", "--total", "130", "--json"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert math.isclose(json.loads(done.stdout)["part_a_g"], 100)
