"""Stock of a shop: cards and rows of the log together, per can and per material."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.records import catalogue, log, stock
from companion.records.store import Store
from companion.trade.cards import Container, Lot, ScaleCard, SystemCard
from tests.records.shop_records import AT, opened
from tests.sample_rows import LOG_ID, lines, row

NONE = {"component": "", "value": "", "unit": "", "typed": ""}
CARDS = (
    SystemCard("RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150),
    ScaleCard("S1", 1, "0.1", 3000),
    Lot("HL-2291", 1, "HRD-S", "2026-06-01"),
    Lot("HL-2104", 1, "HRD-S", "2026-03-06"),
    Lot("HL-2300", 1, "HRD-S", "2026-06-01", quarantined=True),
    Container("HRD2SM", 1, "HRD-S", "HL-2291", content_g=1000, empty_g=85),
    Container("HRD4SG", 1, "HRD-S", "HL-2104", content_g=500),
    Container("HRD5SX", 1, "HRD-S", "HL-2300", content_g=400),
    Container("HRD6SY", 1, "HRD-S", "HL-2291"),
)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    found = opened(tmp_path / "records.sqlite3")
    for card in CARDS:
        catalogue.put(found, card, AT)
    yield found
    found.close()


def bring(store: Store, *facts: dict[str, str]) -> None:
    """Rows of one phone; a field that is not said is empty."""
    made = [row(number, **{**NONE, **fact}) for number, fact in enumerate(facts, start=1)]
    results = log.append(store, LOG_ID, lines(made), log.Contact(AT)).results
    assert {one.status for one in results} == {log.STORED}


def reading(component: str, value: str) -> dict[str, str]:
    return {"kind": "weighed", "component": component, "value": value, "unit": "g", "typed": value}


def weighed(code: str, gross: str) -> dict[str, str]:
    return {
        **reading("", gross),
        "kind": "container_weighed",
        "container": code,
        "cup": "",
        "after": "",
    }


CUP = (
    {"kind": "cup_started", "value": "146.4"},
    reading("cup", "8.4"),
    reading("a", "121.4"),
    {"kind": "lot_used", "component": "b", "lot": "HL-2291", "container": "HRD2SM"},
    reading("b", "155.3"),
)


def test_it_takes_what_cups_drew_off_their_cans(store: Store) -> None:
    bring(store, *CUP)
    found = stock.by_material(store, "2026-03-07")
    hardener = found["HRD-S"]
    rest_g = {one.card.code: one.stock.rest_g for one in hardener.containers}
    assert rest_g == {
        "HRD2SM": pytest.approx(966.1),
        "HRD4SG": 500,
        "HRD5SX": 400,
        "HRD6SY": None,
    }
    # Neither the expired can nor the one in quarantine is usable, and one nobody can tell.
    assert hardener.rest_g == pytest.approx(1866.1)
    assert hardener.usable_rest_g == pytest.approx(966.1)
    assert hardener.untold == ("HRD6SY",)
    # Part A was poured without a can on record: it is told, and is in no can.
    assert (found["RES-L"].rest_g, found["RES-L"].containers) == (0, ())
    assert found["RES-L"].no_can_g == pytest.approx(113.0)


def test_a_lot_is_good_on_its_last_day(store: Store) -> None:
    def usable(today: str) -> bool:
        cans = stock.by_material(store, today)["HRD-S"].containers
        return next(can.usable for can in cans if can.card.code == "HRD4SG")

    assert usable("2026-03-06")
    assert not usable("2026-03-07")


def test_a_weighing_is_the_rest_until_it_is_struck(store: Store) -> None:
    bring(
        store,
        *CUP,
        weighed("HRD2SM", "1041.1"),
        weighed("HRD2SM", "104.2"),
        {"kind": "voided", "cup": "", "after": "", "refers_to": row(7).event_id},
    )
    can = stock.by_material(store)["HRD-S"].containers[0].stock
    assert can.rest_g == pytest.approx(956.1)
    assert can.unaccounted_g == pytest.approx(10.0)
    assert can.flags == ()


def test_cups_whose_cards_are_not_here_draw_nothing(store: Store) -> None:
    bring(store, *({**fact, "system": "OTHER@1"} for fact in CUP))
    assert "RES-L" not in stock.by_material(store)
