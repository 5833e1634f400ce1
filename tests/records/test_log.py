"""The log as received: stored once, whatever comes twice, out of order or changed."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import text

from companion.records import aside, log, phones
from companion.records.store import Store, integrity_problems
from tests.sample_rows import LOG_ID, OTHER_LOG_ID, lines, row, three_rows

CONTACT = log.Contact("2026-03-07T12:00:00.000Z", "0.1.0+test", 250)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = Store(f"sqlite:///{tmp_path / 'records.sqlite3'}")
    opened.migrate()
    yield opened
    opened.close()


def statuses(receipt: log.Receipt) -> list[str]:
    return [result.status for result in receipt.results]


def test_it_stores_each_row_once(store: Store) -> None:
    first = log.append(store, LOG_ID, lines(three_rows()), CONTACT)
    assert statuses(first) == ["stored"] * 3
    assert (first.have_upto, first.missing) == (3, ())
    again = log.append(store, LOG_ID, lines(three_rows()), CONTACT)
    assert statuses(again) == ["duplicate"] * 3
    assert log.all_rows(store) == three_rows()


def test_a_row_twice_in_one_body_is_stored_once(store: Store) -> None:
    receipt = log.append(store, LOG_ID, lines([row(1), row(1)]), CONTACT)
    assert statuses(receipt) == ["stored", "duplicate"]


def test_it_names_what_is_missing(store: Store) -> None:
    receipt = log.append(store, LOG_ID, lines([row(2), row(5), row(9)]), CONTACT)
    assert receipt.have_upto == 0
    assert receipt.missing == ((1, 1), (3, 4), (6, 8))
    receipt = log.append(store, LOG_ID, lines([row(1), row(3)]), CONTACT)
    assert (receipt.have_upto, receipt.missing) == (3, ((4, 4), (6, 8)))


def test_the_same_id_with_other_content_is_a_conflict_and_both_are_kept(store: Store) -> None:
    log.append(store, LOG_ID, lines([row(1)]), CONTACT)
    changed = row(1, value="999.9")
    receipt = log.append(store, LOG_ID, lines([changed, row(2)]), CONTACT)
    assert statuses(receipt) == ["conflict", "stored"]
    assert receipt.results[0].reason == "content"
    assert log.all_rows(store)[0] == row(1)
    (stray,) = aside.all_strays(store)
    assert stray.status == "conflict" and "999.9" in stray.raw
    # Sent again, it is answered the same and kept no second time.
    assert statuses(log.append(store, LOG_ID, lines([changed]), CONTACT)) == ["conflict"]
    assert len(aside.all_strays(store)) == 1


def test_the_same_number_with_another_id_is_a_conflict(store: Store) -> None:
    log.append(store, LOG_ID, lines([row(1)]), CONTACT)
    twin = replace(row(1), event_id=row(77).event_id)
    receipt = log.append(store, LOG_ID, lines([twin]), CONTACT)
    assert [(r.status, r.reason) for r in receipt.results] == [("conflict", "seq")]


def test_a_row_of_another_log_is_set_aside(store: Store) -> None:
    foreign = row(1, log_id=OTHER_LOG_ID)
    receipt = log.append(store, LOG_ID, lines([foreign]), CONTACT)
    assert [(r.status, r.reason) for r in receipt.results] == [("quarantined", "log_id")]
    assert log.all_rows(store) == []


def test_one_poisoned_row_does_not_hold_up_the_others(store: Store) -> None:
    rows = [row(number) for number in range(1, 501)]
    rows[249] = row(250, value="nan")
    receipt = log.append(store, LOG_ID, lines(rows), CONTACT)
    assert statuses(receipt).count("stored") == 499
    assert statuses(receipt).count("quarantined") == 1
    # The phone may forget about all of them.
    assert (receipt.have_upto, receipt.missing) == (500, ())
    assert [stray.reason for stray in aside.all_strays(store)] == ["value"]


def test_unknown_kinds_and_columns_are_kept(store: Store) -> None:
    later = replace(row(1, kind="sung_to"), extra=(("melody", "low"),))
    log.append(store, LOG_ID, lines([later]), CONTACT)
    assert log.all_rows(store) == [later]
    assert "melody" in log.export(store)


def test_rows_in_any_order_give_the_same_export(store: Store) -> None:
    for number in (3, 1, 2):
        log.append(store, LOG_ID, lines([three_rows()[number - 1]]), CONTACT)
    from companion.wire.log_csv import write_log

    assert log.export(store) == write_log(three_rows())


def test_an_import_by_hand_is_the_same_as_the_network(store: Store) -> None:
    two_phones = [*three_rows(), row(1, log_id=OTHER_LOG_ID, event_id=row(50).event_id, after="")]
    results = log.import_lines(store, lines(two_phones), CONTACT)
    assert [result.status for result in results] == ["stored"] * 4
    results = log.import_lines(store, lines(two_phones), CONTACT)
    assert [result.status for result in results] == ["duplicate"] * 4
    assert {
        summary.log_id: summary.rows for summary in phones.all_logs(store, CONTACT.received_at)
    } == {
        LOG_ID: 3,
        OTHER_LOG_ID: 1,
    }


def test_a_failed_append_leaves_nothing_behind(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("in the middle")

    monkeypatch.setattr(log, "_note_contact", fail)
    with pytest.raises(RuntimeError):
        log.append(store, LOG_ID, lines(three_rows()), CONTACT)
    assert log.all_rows(store) == []


def test_the_database_is_set_up_to_keep_what_it_acknowledged(store: Store) -> None:
    with store.read() as connection:
        pragma = {
            name: connection.execute(text(f"PRAGMA {name}")).scalar()
            for name in ("synchronous", "journal_mode", "busy_timeout")
        }
    assert pragma == {"synchronous": 2, "journal_mode": "truncate", "busy_timeout": 5000}
    assert integrity_problems(store) == []


def test_the_newest_migration_makes_the_tables_of_the_schema(store: Store) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    from companion.records.schema import metadata

    with store.read() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
