"""From readings to cans: which can a pour came from. The balance itself is in the shared cases."""

import pytest

from companion.trade.cards import ScaleCard, SystemCard
from companion.trade.cup import fold
from companion.trade.rows import Row
from companion.trade.stock import draws

SYSTEM = SystemCard("RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 1000)
SCALE = ScaleCard("S1", 1, "0.1", 3000)


def chain(*facts: dict[str, str]) -> list[Row]:
    """Rows of one cup, each after the one before, a minute apart."""
    started = {"kind": "cup_started", "value": "146.4", "scale": "S1@1"}
    return [
        Row(
            event_id=f"e{number}",
            after=f"e{number - 1}" if number else "",
            recorded_at=f"2026-03-07T10:{number:02d}:00.000Z",
            cup="7K2QMS",
            **fact,
        )
        for number, fact in enumerate([started, *facts])
    ]


def display(component: str, value: str, **more: str) -> dict[str, str]:
    return {"kind": "weighed", "component": component, "value": value, **more}


def can(component: str, code: str) -> dict[str, str]:
    return {"kind": "lot_used", "component": component, "container": code}


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        pytest.param(
            [can("a", "RES1"), display("a", "121.4"), can("b", "HRD1"), display("b", "155.3")],
            [("RES1", "a", 113.0, ()), ("HRD1", "b", 33.9, ())],
            id="one can each",
        ),
        pytest.param(
            [display("a", "121.4"), can("b", "HRD1"), display("b", "155.3")],
            [("", "a", 113.0, ()), ("HRD1", "b", 33.9, ())],
            id="no can recorded",
        ),
        pytest.param(
            [can("a", "R1"), display("a", "58.4"), can("a", "R2"), display("a", "121.4")],
            [("R1", "a", 50.0, ()), ("R2", "a", 63.0, ())],
            id="a reading stands between two cans",
        ),
        pytest.param(
            [can("a", "R1"), can("a", "R2"), display("a", "121.4")],
            [("R1", "a", 0.0, ("share_unknown",)), ("R2", "a", 113.0, ("share_unknown",))],
            id="changed in the middle of a pour",
        ),
        pytest.param(
            [can("a", "R1"), can("a", "R1"), display("a", "121.4")],
            [("R1", "a", 0.0, ()), ("R1", "a", 113.0, ())],
            id="the same can taken twice",
        ),
        pytest.param(
            [
                can("a", "R1"),
                can("a", "R2"),
                {"kind": "voided", "refers_to": "e3"},
                display("a", "121.4"),
            ],
            [("R1", "a", 113.0, ())],
            id="the second row was struck",
        ),
        pytest.param(
            [
                can("a", "R1"),
                display("a", "58.4"),
                can("a", "R2"),
                display("a", "121.4"),
                display("a", "60.4", refers_to="e3"),
            ],
            [("R1", "a", 52.0, ()), ("R2", "a", 61.0, ())],
            id="read again after the change",
        ),
        pytest.param(
            [
                can("a", "R1"),
                display("a", "58.4"),
                can("b", "H1"),
                display("b", "75.4"),
                can("a", "R2"),
                display("a", "80.4"),
            ],
            [("R1", "a", 50.0, ()), ("R2", "a", 5.0, ()), ("H1", "b", 17.0, ())],
            id="a correction out of another can",
        ),
        pytest.param(
            [
                can("a", "R1"),
                display("a", "121.4"),
                display("b", "155.3"),
                {"kind": "voided", "refers_to": "e3"},
            ],
            [("", "b", 146.9, ("readings_missing",))],
            id="the ratio is unknown",
        ),
    ],
)
def test_it_tells_which_can_each_pour_came_from(facts, expected):
    rows = chain(display("cup", "8.4"), *facts)
    # Struck and repeated rows refer to places counted with the empty cup's reading as e1.
    found = draws(rows, fold(rows, SYSTEM, SCALE), SCALE.readability_g)
    assert [(d.container, d.component, round(d.net_g, 6), d.doubts) for d in found] == expected
    assert sum(d.net_g for d in found) == pytest.approx(fold(rows, SYSTEM, SCALE).total_g)
