"""What the office decides about rows set aside: rows of its own log, and nothing edited."""

import uuid
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from companion.errors import NotKnown, OutOfRange
from companion.records import aside, catalogue, log, phones, settling, trace
from companion.records.aside import Decision
from companion.records.store import Store
from companion.trade.cards import ScaleCard, SystemCard
from companion.trade.rows import Row
from companion.wire.log_csv import Line, read_log, write_log
from tests.sample_rows import CUP, LOG_ID, event_id, lines, row

CONTACT = log.Contact("2026-03-07T12:00:00.000Z")
AT = "2026-03-08T09:00:00.000Z"
BECAUSE = Decision("", "O", "the pencil note says so", AT)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = fresh(tmp_path / "records.sqlite3")
    yield opened
    opened.close()


def fresh(path: Path) -> Store:
    opened = Store(f"sqlite:///{path}")
    opened.migrate()
    catalogue.found(opened, demo=True)
    with opened.write() as connection:
        catalogue.put_person(connection, "O", "Owner")
    system = SystemCard("RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150)
    catalogue.put(opened, system, AT)
    catalogue.put(opened, ScaleCard("S1", 1, "0.1", 3000), AT)
    return opened


def cup() -> list[Row]:
    """A cup of A 112.9 g and B 33.9 g: in tolerance."""
    return [
        row(1, kind="cup_started", component="", value="146.4", typed=""),
        row(2, component="cup", value="8.4", typed="8.4"),
        row(3, value="121.3", typed="121.3"),
        row(4, kind="pour_opened", component="b", value="", unit="", typed=""),
        row(5, component="b", value="155.2", typed="155.2"),
    ]


def send(store: Store, *rows: Row) -> list[str]:
    receipt = log.append(store, LOG_ID, lines(list(rows)), CONTACT)
    return [result.status for result in receipt.results]


def send_raw(store: Store, *records: str) -> list[str]:
    body = write_log([]) + "".join(f"{record}\r\n" for record in records)
    receipt = log.append(store, LOG_ID, read_log(body.encode()), CONTACT)
    return [result.status for result in receipt.results]


def raw_of(one: Row, **wrong: str) -> str:
    record = write_log([one]).splitlines()[1]
    for text, instead in wrong.items():
        record = record.replace(text.replace("_", "."), instead)
    return record


def newest(store: Store) -> aside.Stray:
    return aside.all_strays(store)[0]


def only_cup(store: Store) -> trace.CupStory:
    (story,) = trace.stories(store, CUP)
    assert story.cup is not None
    return story


def office_rows(store: Store) -> list[Row]:
    return log.all_rows(store, log_id=catalogue.identity(store).log_id)


def test_a_row_left_out_is_a_row_of_the_office_log(store: Store) -> None:
    send(store, *cup())
    assert send(store, replace(cup()[2], value="999.9")) == ["conflict"]
    settling.leave_out(store, newest(store).number, BECAUSE)
    (settled,) = office_rows(store)
    assert (settled.kind, settled.seq, settled.shown) == (aside.SETTLED, 1, aside.LEFT_OUT)
    assert (settled.note, settled.person) == (BECAUSE.reason, "O")
    assert (settled.target, settled.refers_to) == (newest(store).raw_sha256, event_id(3))
    assert uuid.UUID(settled.event_id).version == 7
    # It stands in the cup's story, and the cup is what it was.
    assert only_cup(store).rows[-1] == settled
    assert only_cup(store).cup.part_a_g == pytest.approx(112.9)  # type: ignore[union-attr]
    decision = newest(store).decision
    assert decision == Decision("left_out", "O", BECAUSE.reason, AT)


def test_a_reading_in_conflict_taken_in_stands_in_the_place_of_the_stored_one(store: Store) -> None:
    send(store, *cup())
    send(store, replace(cup()[2], value="121.5", typed="121.5"))
    settling.take_in(store, newest(store).number, BECAUSE, {})
    told = only_cup(store).cup
    assert told is not None
    assert (told.part_a_g, told.part_b_g) == pytest.approx((113.1, 33.7))
    assert told.flags == ()
    assert log.row_with_id(store, event_id(3)) == cup()[2]


def test_another_row_in_conflict_taken_in_strikes_the_stored_one(store: Store) -> None:
    used = row(6, kind="lot_used", component="a", value="", unit="", typed="", lot="RL-1180")
    send(store, *cup(), used)
    send(store, replace(used, lot="RL-2207"))
    settling.take_in(store, newest(store).number, BECAUSE, {})
    told = only_cup(store).cup
    assert told is not None
    assert [use.lot for use in told.lots] == ["RL-2207"]
    assert [one.kind for one in office_rows(store)] == ["voided", "lot_used", aside.SETTLED]


def test_rows_of_a_cloned_store_taken_in_keep_their_ids_and_their_chain(store: Store) -> None:
    send(store, *cup()[:3])
    # The clone went on from the same place under the same numbers.
    clone = [
        row(4, event_id=event_id(104), kind="pour_opened", component="b", value="", unit=""),
        row(5, event_id=event_id(105), after=event_id(104), component="b", value="155.2"),
    ]
    send(store, *cup()[3:])
    assert send(store, *clone) == ["conflict", "conflict"]
    for one in sorted(aside.all_strays(store), key=lambda stray: stray.number):
        settling.take_in(store, one.number, BECAUSE, {})
    story = only_cup(store)
    assert {event_id(4), event_id(5), event_id(104), event_id(105)} <= {
        one.event_id for one in story.rows
    }
    assert story.cup is not None and "double_fill" in story.cup.flags
    # The phone that sends them once more gets the same answer, and nothing is set aside again.
    assert send(store, *clone) == ["conflict", "conflict"]
    assert len(aside.all_strays(store)) == 2


def test_a_quarantined_row_is_corrected_and_taken_in_under_its_own_id(store: Store) -> None:
    send(store, *cup()[:2], *cup()[3:])
    bad = raw_of(cup()[2], **{"121_3": '"121,3"'})
    assert send_raw(store, bad) == ["quarantined"]
    number = newest(store).number
    with pytest.raises(settling.WrongField) as refused:
        settling.take_in(store, number, BECAUSE, {})
    assert (refused.value.field, refused.value.value) == ("value", "121,3")
    assert office_rows(store) == []
    settling.take_in(store, number, BECAUSE, {"value": "121.3"})
    taken = log.row_with_id(store, event_id(3))
    assert taken is not None and (taken.value, taken.typed, taken.person) == ("121.3", "121,3", "O")
    told = only_cup(store).cup
    assert told is not None and told.verdict == "in"
    assert newest(store).raw == bad + "\r\n"
    assert send_raw(store, bad) == ["quarantined"]
    assert len(aside.all_strays(store)) == 1


def test_a_row_with_no_legible_id_gets_one_of_the_office(store: Store) -> None:
    send(store, *cup()[:2])
    assert send_raw(store, raw_of(replace(cup()[2], event_id="smudged", after=""))) == [
        "quarantined"
    ]
    settling.take_in(store, newest(store).number, BECAUSE, {})
    taken = office_rows(store)[0]
    assert uuid.UUID(taken.event_id).version == 7
    assert taken.after == event_id(2)
    assert only_cup(store).rows[2] == taken


@pytest.mark.parametrize(
    ("decision", "field"),
    [
        (replace(BECAUSE, person="X"), "person"),
        (replace(BECAUSE, reason=""), "reason"),
        (replace(BECAUSE, reason="x" * 501), "reason"),
    ],
)
def test_a_decision_without_a_name_or_a_reason_is_refused(
    store: Store, decision: Decision, field: str
) -> None:
    send(store, *cup())
    send(store, replace(cup()[2], value="999.9"))
    for decide in (
        lambda number: settling.leave_out(store, number, decision),
        lambda number: settling.take_in(store, number, decision, {}),
    ):
        with pytest.raises(OutOfRange) as refused:
            decide(newest(store).number)
        assert refused.value.field == field
    assert office_rows(store) == []


def test_a_row_taken_in_is_not_decided_on_again_and_one_left_out_is(store: Store) -> None:
    send(store, *cup())
    send(store, replace(cup()[2], value="121.5"))
    number = newest(store).number
    settling.leave_out(store, number, BECAUSE)
    settling.take_in(store, number, BECAUSE, {})
    with pytest.raises(OutOfRange):
        settling.take_in(store, number, BECAUSE, {})
    with pytest.raises(OutOfRange):
        settling.leave_out(store, number, BECAUSE)
    with pytest.raises(NotKnown):
        settling.leave_out(store, number + 1, BECAUSE)


def test_a_row_that_starts_a_cup_stored_otherwise_is_not_taken_in(store: Store) -> None:
    send(store, *cup())
    send(store, replace(cup()[0], value="90.0"))
    with pytest.raises(OutOfRange) as refused:
        settling.take_in(store, newest(store).number, BECAUSE, {})
    assert refused.value.field == "kind"


def test_the_office_log_is_no_phone_and_travels_like_any_other(
    store: Store, tmp_path: Path
) -> None:
    send(store, *cup())
    send(store, replace(cup()[2], value="121.5"))
    settling.take_in(store, newest(store).number, BECAUSE, {})
    exported = log.export(store)
    assert [one.log_id for one in phones.all_logs(store, "2026-03-08T12:00:00.000Z")] == [LOG_ID]
    elsewhere = fresh(tmp_path / "elsewhere.sqlite3")
    brought: list[Line] = read_log(exported.encode())
    assert {one.status for one in log.import_lines(elsewhere, brought, CONTACT)} == {"stored"}
    assert {one.status for one in log.import_lines(elsewhere, brought, CONTACT)} == {"duplicate"}
    assert log.export(elsewhere) == exported
    elsewhere.close()


def test_columns_of_a_later_version_and_in_another_order_are_read_as_they_are_named(
    store: Store,
) -> None:
    send(store, *cup()[:2])
    body = write_log([replace(cup()[2], value="121,3", extra=(("moisture", "4"),))])
    names, record = body.splitlines()
    swapped = ",".join([*names.split(",")[1:], names.split(",")[0]])
    moved = ",".join([*record.replace("121,3", "121;3").split(",")[1:], "1"])
    log.append(store, LOG_ID, read_log(f"{swapped}\r\n{moved}\r\n".encode()), CONTACT)
    assert newest(store).header == swapped
    settling.take_in(store, newest(store).number, BECAUSE, {"value": "121.3"})
    taken = log.row_with_id(store, event_id(3))
    assert taken is not None
    assert (taken.value, taken.extra) == ("121.3", (("moisture", "4"),))


def test_a_reading_of_the_other_part_never_stands_in_for_this_one(store: Store) -> None:
    send(store, *cup())
    send(store, replace(cup()[2], component="b"))
    settling.take_in(store, newest(store).number, BECAUSE, {})
    assert [one.kind for one in office_rows(store)] == ["voided", "weighed", aside.SETTLED]


def test_a_reading_taken_again_later_stays_the_last_word(store: Store) -> None:
    again = row(6, value="121.4", typed="121.4", refers_to=event_id(3))
    send(store, *cup(), again)
    send(store, replace(cup()[2], value="121.9", typed="121.9"))
    settling.take_in(store, newest(store).number, BECAUSE, {})
    told = only_cup(store).cup
    assert told is not None and told.part_a_g == pytest.approx(113.0)


def test_no_row_that_is_taken_in_is_a_decision(store: Store) -> None:
    send(store, *cup())
    send(store, replace(cup()[2], kind=aside.SETTLED, value="x", target="0" * 64))
    with pytest.raises(OutOfRange) as refused:
        settling.take_in(store, newest(store).number, BECAUSE, {})
    assert refused.value.field == "kind"


def test_the_same_observation_under_another_number_is_left_out(store: Store) -> None:
    send(store, *cup())
    assert send(store, replace(cup()[2], seq=9)) == ["conflict"]
    with pytest.raises(OutOfRange):
        settling.take_in(store, newest(store).number, BECAUSE, {})
    settling.leave_out(store, newest(store).number, BECAUSE)


def test_a_quarantined_row_whose_id_is_taken_gets_one_of_its_own(store: Store) -> None:
    send(store, *cup())
    other = replace(cup()[2], seq=9, kind="note", value="", unit="nonsense", typed="", note="spilt")
    assert send_raw(store, raw_of(other)) == ["quarantined"]
    settling.take_in(store, newest(store).number, BECAUSE, {"unit": ""})
    assert log.row_with_id(store, event_id(3)) == cup()[2]
    taken = office_rows(store)[0]
    assert (taken.kind, taken.note) == ("note", "spilt")
    told = only_cup(store).cup
    assert told is not None and told.part_a_g == pytest.approx(112.9)


def test_a_reason_no_other_shop_would_take_is_not_stored(store: Store) -> None:
    send(store, *cup())
    send(store, replace(cup()[2], value="999.9"))
    with pytest.raises(OutOfRange):
        settling.leave_out(store, newest(store).number, replace(BECAUSE, reason="a\x07bell"))
    assert office_rows(store) == []
