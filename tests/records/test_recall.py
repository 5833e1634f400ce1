"""T9: a hardener lot is recalled; what it is in, what is in doubt, and what is proven clear."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest

from companion.records import catalogue, labels, lineage, log, parts, recall, shipping
from companion.records.shipping import Shipment
from companion.records.store import Store
from companion.trade.cards import Container, Job, Lot
from companion.trade.rows import Row
from tests.records.test_office_log import AT, CONTACT, fresh
from tests.sample_rows import LOG_ID, event_id, lines, row

LOT, CAN, OTHER_LOT, OTHER_CAN = "HL-2291", "HRD2SM", "HL-2300", "HRD5SX"
#: Job of each of the eleven cups that went into parts.
INTO = ("J1", "J1", "J1", "J2", "J2", "J3", "J3", "J4", "J4", "J5", "J6")
TO = {"J1": "LAKE", "J2": "LAKE", "J3": "BAY", "J4": "ISLE"}
NO_VALUE = {"value": "", "unit": "", "typed": ""}


@dataclass
class Bench:
    """Writes cups of one phone, one after the other."""

    store: Store
    codes: list[str]
    rows: list[Row] = field(default_factory=list)

    def cup(
        self,
        job: str = "",
        lots: Sequence[tuple[str, str]] = ((LOT, CAN),),
        end: str = "poured",
        day: str = "07",
    ) -> str:
        """A cup of 146.4 g whose hardener came from these lots and cans."""
        code, first = self.codes.pop(), len(self.rows)
        facts: list[dict[str, str]] = [
            {"kind": "cup_started", "component": "", "value": "146.4", "unit": "g", "typed": ""},
            {"component": "cup", "value": "8.4"},
            {"component": "a", "value": "121.3"},
            *(
                {**NO_VALUE, "kind": "lot_used", "component": "b", "lot": lot, "container": can}
                for lot, can in lots
            ),
            {"component": "b", "value": "155.2"},
            {**NO_VALUE, "kind": end, "component": ""},
        ]
        for place, fact in enumerate(facts):
            number = first + place + 1
            self.rows.append(
                row(
                    number,
                    **{
                        **{"cup": code, "job": f"{job}@1" if job else "", "step": ""},
                        **{"after": event_id(number - 1) if place else ""},
                        **{"recorded_at": f"2026-03-{day}T10:00:{place:02d}.000Z"},
                        **fact,
                    },
                )
            )
        return code

    def send(self) -> None:
        """Bring what was written."""
        receipt = log.append(self.store, LOG_ID, lines(self.rows), CONTACT)
        assert {one.status for one in receipt.results} == {log.STORED}


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = fresh(tmp_path / "records.sqlite3")
    for lot, can in ((LOT, CAN), (OTHER_LOT, OTHER_CAN)):
        catalogue.put(opened, Lot(lot, 1, "HRD-S", "2026-12-31"), AT)
        catalogue.put(opened, Container(can, 1, "HRD-S", lot, "2026-03-05"), AT)
    for job in ("J1", "J2", "J3", "J4", "J5", "J6", "DOUBT", "CLEAR", "NONE"):
        catalogue.put(opened, Job(job, 1, "hatch"), AT)
        part = parts.add(opened, job, f"S-{job}", AT)
        if job in TO:
            shipping.ship(opened, Shipment(part, TO[job], "2026-03-20"), AT)
    yield opened
    opened.close()


@pytest.fixture
def bench(store: Store) -> Bench:
    return Bench(store, labels.take(store, 40, LOG_ID, AT))


def of_lot(store: Store) -> tuple[lineage.LotTrace, recall.Recall]:
    found = lineage.trace(store, LOT).lot
    assert found is not None
    return found, recall.of_lot(store, found)


def serials(found: Sequence[lineage.PartSent]) -> list[str]:
    return sorted(one.card.serial for one in found)


def test_a_recalled_lot_leads_to_parts_and_customers(store: Store, bench: Bench) -> None:
    both = bench.cup(INTO[0], ((LOT, CAN), (OTHER_LOT, OTHER_CAN)))
    for job in INTO[1:]:
        bench.cup(job)
    for end in ("scrapped", "scrapped", "sampled"):
        bench.cup(end=end)
    unknown = bench.cup("DOUBT", ())
    bench.cup("CLEAR", ((OTHER_LOT, OTHER_CAN),))
    # Poured before the can was opened: no doubt, though nobody wrote its lot.
    bench.cup(lots=(), day="01")
    bench.send()
    lot, found = of_lot(store)
    assert len(lot.cups) == 14
    (story,) = [one for one in lot.cups if one.code == both]
    assert {use.lot for use in lineage.lots_used(story)} == {LOT, OTHER_LOT}
    assert serials(found.parts) == ["S-J1", "S-J2", "S-J3", "S-J4", "S-J5", "S-J6"]
    sent = [one.shipment for one in found.parts if one.shipment]
    assert len(sent) == 4 and len({one.customer for one in sent}) == 3
    assert [one.code for one in found.doubtful] == [unknown]
    assert serials(found.doubtful_parts) == ["S-DOUBT"]
    # A part without a cup is neither: nothing is known of it.
    assert serials(found.clear) == ["S-CLEAR"]
    assert found.since == "2026-03-04"


def test_a_recalled_can_leads_there_too(store: Store, bench: Bench) -> None:
    bench.cup("J1")
    beside = bench.cup("J2", ((LOT, ""),))
    bench.cup("J3", ((OTHER_LOT, ""),))
    bench.cup("J4", (("", OTHER_CAN),))
    nothing = bench.cup("J5", ())
    bench.send()
    can = lineage.trace(store, CAN).container
    assert can is not None
    found = recall.of_can(store, can)
    assert serials(found.parts) == ["S-J1"]
    # The lot is known, the can is not.
    assert [one.code for one in found.doubtful] == [beside, nothing]
    assert serials(found.clear) == ["S-J3", "S-J4"]


def test_a_can_on_record_tells_its_lot_where_the_row_does_not(store: Store, bench: Bench) -> None:
    bench.cup("J1")
    bench.cup("J2", (("", OTHER_CAN),))
    foreign = bench.cup("J3", (("", "HRD9XX"),))
    bench.send()
    _, found = of_lot(store)
    assert [one.code for one in found.doubtful] == [foreign]
    assert serials(found.clear) == ["S-J2"]


def test_a_struck_row_proves_nothing(store: Store, bench: Bench) -> None:
    bench.cup("J1")
    code = bench.cup("J2", ((OTHER_LOT, OTHER_CAN),))
    (used,) = [one for one in bench.rows if one.cup == code and one.kind == "lot_used"]
    last = bench.rows[-1]
    number = len(bench.rows) + 1
    strike = row(number, kind="voided", cup=code, component="", **NO_VALUE)
    bench.rows.append(replace(strike, after=last.event_id, refers_to=used.event_id))
    bench.send()
    _, found = of_lot(store)
    assert [one.code for one in found.doubtful] == [code]
