"""Trace: from a cup to its lots and cans, from a lot or a can to its cups."""

from dataclasses import replace
from pathlib import Path

import pytest

from companion.errors import NotKnown
from companion.records import catalogue, lineage, log
from companion.records.lineage import LotUsed, lots_used
from companion.records.store import Store
from companion.trade.cards import Container, Lot
from companion.trade.rows import Row
from tests.records.test_office_log import AT, CONTACT, cup, fresh
from tests.sample_rows import CUP, LOG_ID, OTHER_LOG_ID, event_id, lines, row

CAN, LOT, OTHER_CUP = "HRD2SM", "HL-2291", "9B3XWD"


@pytest.fixture
def store(tmp_path: Path):
    opened = fresh(tmp_path / "records.sqlite3")
    catalogue.put(opened, Lot(LOT, 1, "HRD-S", "2026-12-31"), AT)
    catalogue.put(opened, Container(CAN, 1, "HRD-S", LOT, "2026-03-01"), AT)
    yield opened
    opened.close()


def send(store: Store, *rows: Row, log_id: str = LOG_ID) -> None:
    log.append(store, log_id, lines(list(rows)), CONTACT)


def taken(number: int, **fields: str | int) -> Row:
    used = {"kind": "lot_used", "component": "b", "lot": LOT, "container": CAN, "value": ""}
    return row(number, **{**used, "unit": "", "typed": "", **fields})


def other_cup() -> list[Row]:
    return [
        replace(
            one,
            log_id=OTHER_LOG_ID,
            cup=OTHER_CUP,
            event_id=one.event_id.replace("-0000000", "-1000000"),
            after=one.after.replace("-0000000", "-1000000"),
        )
        for one in [*cup(), taken(6, component="a", lot="RL-1180", container="RES3LS")]
    ]


def test_a_cup_leads_to_its_lots_and_cans(store: Store) -> None:
    send(store, *cup(), taken(6), taken(7), taken(8, component="a", lot="RL-1180", container=""))
    found = lineage.trace(store, CUP)
    (story,) = found.cups
    assert lots_used(story) == (LotUsed("b", LOT, CAN), LotUsed("a", "RL-1180", ""))
    assert (found.lot, found.container, found.planned) == (None, None, False)


def test_a_lot_that_was_struck_does_not_count(store: Store) -> None:
    send(store, *cup(), taken(6), row(7, kind="voided", refers_to=event_id(6), value="", unit=""))
    assert lots_used(lineage.trace(store, CUP).cups[0]) == ()
    found = lineage.trace(store, LOT).lot
    assert found is not None and found.cups == ()


def test_a_lot_and_a_can_lead_to_their_cups(store: Store) -> None:
    send(store, *cup(), taken(6))
    send(store, *other_cup(), log_id=OTHER_LOG_ID)
    of_lot, of_can = lineage.trace(store, LOT).lot, lineage.trace(store, CAN).container
    assert of_lot is not None and of_can is not None
    assert [one.code for one in of_lot.cups] == [one.code for one in of_can.cups] == [CUP]
    assert of_lot.containers == (CAN,)
    # A lot nobody entered is known by the rows that name it.
    unrecorded = lineage.trace(store, "RL-1180").lot
    assert unrecorded is not None and unrecorded.card is None
    assert [one.code for one in unrecorded.cups] == [OTHER_CUP]


def test_a_can_put_under_another_lot_stays_in_the_recall_of_both(store: Store) -> None:
    send(store, *cup(), taken(6))
    catalogue.put(store, Container(CAN, 2, "HRD-S", "HL-2300", "2026-03-01", reason="typo"), AT)
    before, after = (lineage.trace(store, lot).lot for lot in (LOT, "HL-2300"))
    assert before is not None and after is not None
    # The row of the cup names the first lot; its can is of the second now.
    assert [one.code for one in before.cups] == [one.code for one in after.cups] == [CUP]
    assert (before.containers, before.moved) == ((CAN,), (CAN,))
    assert (after.containers, after.moved) == ((CAN,), ())


def test_a_cup_under_a_new_label_is_traced_under_both(store: Store) -> None:
    labelled = row(6, kind="labelled", cup=OTHER_CUP, target=CUP, value="", unit="")
    send(store, *cup(), labelled, taken(7, cup=OTHER_CUP))
    for code in (CUP, OTHER_CUP):
        (story,) = lineage.trace(store, code).cups
        assert lots_used(story) == (LotUsed("b", LOT, CAN),)
    found = lineage.trace(store, LOT).lot
    assert found is not None and [one.code for one in found.cups] == [OTHER_CUP]


def test_a_label_used_twice_is_two_cups(store: Store) -> None:
    send(store, *cup())
    send(store, *(replace(one, cup=CUP) for one in other_cup()), log_id=OTHER_LOG_ID)
    assert len(lineage.trace(store, CUP).cups) == 2


@pytest.mark.parametrize(
    "typed", ["hrd2sm", " HRD2 SM ", "HTTPS://COMPANION.LOCAL:8035/L/HRD2SM", "hrd-2sm"]
)
def test_a_code_is_forgiven_as_at_the_bench(store: Store, typed: str) -> None:
    assert lineage.trace(store, typed).code == CAN


@pytest.mark.parametrize("typed", ["", "HL-2292", "K4WRS9", "HTTPS://ELSEWHERE.EXAMPLE/"])
def test_what_is_not_on_record_is_named(store: Store, typed: str) -> None:
    with pytest.raises(NotKnown) as refused:
        lineage.trace(store, typed)
    assert refused.value.value == typed
