"""Parts on record: entered with a code of their own, or refused with nothing left behind."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import insert

from companion.errors import NotKnown, OutOfRange, Taken
from companion.records import bundle, catalogue, labels, parts, plans
from companion.records.log import Contact, append
from companion.records.schema import codes
from companion.records.store import Store
from companion.trade.cards import Container, Job
from companion.trade.codes import is_label
from companion.wire.bundle import pack
from tests.sample_rows import LOG_ID, lines, row

AT = "2026-03-07T10:00:00.000Z"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = Store(f"sqlite:///{tmp_path / 'records.sqlite3'}")
    opened.migrate()
    for card in (Job("14", 1, "Hatch cover"), Job("14", 2, "Hatch cover 14")):
        catalogue.put(opened, card, AT)
    yield opened
    opened.close()


def minted(store: Store) -> int:
    with store.read() as connection:
        return len(connection.execute(codes.select()).all())


def test_it_enters_a_part_under_a_new_code(store: Store) -> None:
    code = parts.add(store, "14", "  HC 014 ", AT)
    assert is_label(code) and minted(store) == 1
    assert parts.every(store) == [parts.Part(code, "14@2", "HC 014", AT)]
    assert parts.find(store, code).serial == "HC 014"
    assert parts.find(store, parts.add(store, "14@1", "HC-013", AT)).job == "14@1"


@pytest.mark.parametrize("serial", ["", " ", "x" * 41, "HC\n014", "HC\u202e014", "\u200b"])
def test_it_refuses_a_serial_nobody_could_read(store: Store, serial: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        parts.add(store, "14@2", serial, AT)
    assert (caught.value.field, caught.value.value) == ("serial", serial)
    assert "1 to 40 printable characters" in str(caught.value)
    assert parts.every(store) == [] and minted(store) == 0


def test_it_takes_the_longest_serial_and_any_script(store: Store) -> None:
    for serial in ("x" * 40, "żółw 7", "غطاء"):
        assert parts.find(store, parts.add(store, "14", serial, AT)).serial == serial


def test_a_serial_belongs_to_one_part_only(store: Store) -> None:
    code = parts.add(store, "14", "HC-014", AT)
    with pytest.raises(Taken, match=f"serial 'HC-014' is taken by {code}") as caught:
        parts.add(store, "14", " HC-014", AT)
    assert caught.value.holder == code
    assert len(parts.every(store)) == minted(store) == 1


def test_it_refuses_a_job_and_a_code_that_are_not_on_record(store: Store) -> None:
    for job in ("15", "14@3", ""):
        with pytest.raises(NotKnown):
            parts.add(store, job, "HC-014", AT)
    with pytest.raises(NotKnown, match="part '7K2QMS'"):
        parts.find(store, "7K2QMS")
    assert parts.every(store) == [] and minted(store) == 0


def test_the_bundle_lists_parts_and_labels_that_are_bound_to_nothing(store: Store) -> None:
    identity = catalogue.found(store, demo=False)
    blank = labels.take(store, 4, "", AT)
    phones = labels.take(store, 1, LOG_ID, AT)
    unprinted = labels.take(store, 1, "", AT)
    part = parts.add(store, "14", "HC-014", AT)
    (planned,) = plans.order(store, plans.PlannedCup("", "", "", "S@1", "100"), 1, AT)
    plans.withdraw(store, planned.code, AT)
    labels.mark_printed(store, [*blank, *phones, part, planned.code], AT)
    _, can, started, _ = blank
    catalogue.put(store, Container(can, 1, "RES-L", "RL-1180"), AT)
    append(store, LOG_ID, lines([row(1, kind="cup_started", cup=started)]), Contact(AT, "1"))
    with store.write() as connection:
        connection.execute(insert(codes).values(code="7K2QMS", given_to="", minted_at=AT))
    sent = bundle.gather(store, identity, AT)
    assert sent.blank_labels == [blank[0], blank[3]]
    assert not {*unprinted, "7K2QMS"} & {*sent.blank_labels}
    assert sent.parts == [{"code": part, "job": "14@2", "serial": "HC-014"}]


def test_equal_parts_and_labels_are_equal_bytes(store: Store) -> None:
    identity = catalogue.found(store, demo=False)
    for number in range(9):
        parts.add(store, "14", f"HC-{number}", AT)
    blank = labels.take(store, 9, "", AT)
    labels.mark_printed(store, blank, AT)
    before = pack(bundle.gather(store, identity, AT))
    labels.mark_printed(store, blank[::-1], "2026-03-08T10:00:00.000Z")
    assert pack(bundle.gather(store, identity, AT)) == before
