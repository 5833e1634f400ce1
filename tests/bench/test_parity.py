"""The phone counts as the server does: its modules, in a real browser, against the same calls."""

import json
from pathlib import Path
from typing import Any

import pytest

from companion.trade import constants, cup, identity, lay_up_rows, lay_up_state, rows, weighing
from companion.trade.cup import progress
from tests.bench.generated import calls
from tests.cases import MODULES, case_files, difference, load_cases, mismatch, outcome

RUNNER = (Path(__file__).parent / "parity.js").read_text(encoding="utf-8")
FILES = {
    module: [f"{name.replace('.', '/').replace('_', '-')}.js" for name in names]
    for module, names in MODULES.items()
}
SEED, ROUNDS = 20260307, 80
#: Powers, exp and log, and spans of centuries that a double cannot hold to the microsecond: equal
#: but for the last bits. Everything else uses + - * / and sqrt only: equal to the last bit.
ROUNDED = {
    **dict.fromkeys(["pot_life_min", "largest_mix_g", "largest_g", "seconds_between"], 1e-12),
    **dict.fromkeys(["time_min", "window_min", "dew_point_c", "largest_humidity_pct"], 1e-9),
    "fold_air": 1e-9,
}


@pytest.fixture(scope="module")
def page(server, browser):
    # What a page may load and evaluate is for other tests to ask.
    page = browser.new_page(bypass_csp=True)
    page.goto(f"{server.url}/static/bench/trade/errors.js")
    yield page
    page.close()


def on_the_phone(page, made: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Outcomes of calls, carried out by the modules as the server delivers them."""
    given = {"base": "/static/bench/trade/", "files": FILES, "calls": made}
    return json.loads(page.evaluate(RUNNER, given))


@pytest.mark.parametrize("name", case_files())
def test_it_agrees_with_the_shared_cases(page, name):
    cases = [case for case in load_cases(name) if not case.get("python_only")]
    found = zip(cases, on_the_phone(page, cases), strict=True)
    wrong = {case["name"]: mismatch(case, got) for case, got in found}
    assert {name: text for name, text in wrong.items() if text} == {}


def test_it_agrees_with_the_server_on_calls_made_up_at_random(page):
    made = list(calls(SEED, ROUNDS))
    assert len(made) >= 2000
    wrong = []
    for call, got in zip(made, on_the_phone(page, made), strict=True):
        wanted = json.loads(json.dumps(outcome(call)))
        text = difference(wanted, got, rel=ROUNDED.get(call["call"], 0.0), abs_=0.0)
        if text:
            wrong.append((call, text))
    assert wrong == []


def test_it_is_asked_about_cups_that_need_every_action():
    cups = [call for call in calls(SEED, ROUNDS) if call["call"] == "advise"]
    advices = [outcome(call)["value"] for call in cups]
    assert {advice["action"] for advice in advices} == set(cup.Action)
    assert {advice["reason"] for advice in advices} >= {
        *("part_missing", "two_corrections", "pot_life_third", "felt_warm", "mixed"),
        *("mix_missing", "divided_unmixed", "unidentified"),
        *("reading_missing", "no_first_reading", "falling_reading", "restart_without_cup"),
    }


def test_it_is_asked_about_steps_in_every_state():
    sheets = [call for call in calls(SEED, ROUNDS) if call["call"] == "fold_sheet"]
    states = [state for call in sheets for state in outcome(call)["value"]["steps"]]
    assert {state["state"] for state in states} == set(lay_up_state.State)
    assert {state["bond"] for state in states} == {"", *lay_up_state.Bond}
    assert {state["reason"] for state in states} >= {
        *("clock", "not_yet", "too_late", "window_past", "too_old", "secondary_bond"),
        *("not_prepared", "before_clock", "not_on_card", "no_window", "done_late"),
        *("clock_unsure", "not_wet"),
    }


def test_it_is_asked_about_every_function_the_phone_has(page):
    exported = page.evaluate(
        """async ({ base, files }) => {
          const names = new Set();
          for (const path of Object.values(files).flat()) {
            for (const [name, own] of Object.entries(await import(base + path))) {
              if (typeof own === "function") names.add(name);
            }
          }
          return [...names];
        }""",
        {"base": "/static/bench/trade/", "files": FILES},
    )
    asked = {call["call"] for call in calls(SEED, 1)}
    asked |= {case["call"] for name in case_files() for case in load_cases(name)}
    camel = {name.split("_")[0] + "".join(w.title() for w in name.split("_")[1:]) for name in asked}
    # decimalsOf is half of entry_decimals and of scale_decimals.
    assert set(exported) - camel == {"decimalsOf"}


def test_it_knows_the_same_words_and_figures(page):
    told = page.evaluate(
        """async (base) => {
          const of = (path) => import(base + path);
          const [rows, cup, weighing, identity, constants, layUp, layUpRows, progress] =
            await Promise.all(
              ["rows.js", "cup/index.js", "weighing.js", "identity.js", "constants.js", "lay-up.js",
               "lay-up-rows.js", "cup/progress.js"].map(of));
          return {
            format: rows.FORMAT, columns: rows.COLUMNS,
            kinds: [...rows.KINDS].sort(), numeric: [...rows.NUMERIC_KINDS].sort(),
            actions: cup.Action, states: cup.CupState, facts: progress.Fact,
            groups: progress.GROUPS, moves: progress.MOVES, verdicts: weighing.Verdict,
            problems: identity.CanProblem, pass: [...identity.REASON_MAY_PASS].sort(),
            steps: layUp.State, bonds: layUp.Bond, hard: layUpRows.SAMPLE_HARD,
            left: layUpRows.LEFT_OUT,
            constants: { ...constants },
          };
        }""",
        "/static/bench/trade/",
    )
    assert told == {
        "format": rows.FORMAT,
        "columns": list(rows.COLUMNS),
        "kinds": sorted(rows.KINDS),
        "numeric": sorted(rows.NUMERIC_KINDS),
        "actions": {member.name: member.value for member in cup.Action},
        "states": {member.name: member.value for member in cup.CupState},
        "facts": {member.name: member.value for member in progress.Fact},
        "groups": {name: list(states) for name, states in progress.GROUPS.items()},
        "moves": [[move.start, move.fact, move.end] for move in progress.MOVES],
        "verdicts": {member.name: member.value for member in weighing.Verdict},
        "problems": {member.name: member.value for member in identity.CanProblem},
        "pass": sorted(identity.REASON_MAY_PASS),
        "steps": {member.name: member.value for member in lay_up_state.State},
        "bonds": {member.name: member.value for member in lay_up_state.Bond},
        "hard": lay_up_rows.SAMPLE_HARD,
        "left": lay_up_rows.LEFT_OUT,
        "constants": {name: value for name, value in vars(constants).items() if name.isupper()},
    }
