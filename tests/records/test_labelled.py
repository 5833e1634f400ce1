"""A cup that was given another label stays one cup."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.records import bundle, catalogue, log, trace
from companion.records.store import Store
from companion.trade.rows import Row
from companion.wire.log_csv import read_log
from tests.sample_rows import CUP, LOG_ID, OTHER_LOG_ID, event_id, lines, row, three_rows

CONTACT = log.Contact("2026-03-07T12:00:00.000Z")
NEW_LABEL = "9B3XWD"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = Store(f"sqlite:///{tmp_path / 'records.sqlite3'}")
    opened.migrate()
    yield opened
    opened.close()


def keep(store: Store, *rows: Row) -> None:
    for log_id in {one.log_id for one in rows}:
        log.append(store, log_id, lines([one for one in rows if one.log_id == log_id]), CONTACT)


def labelled(number: int, **fields: str | int) -> Row:
    fresh = {"kind": "labelled", "cup": NEW_LABEL, "target": CUP, "component": "", "value": ""}
    return row(number, **{**fresh, "unit": "", "typed": "", **fields})


def test_it_is_found_under_either_label(store: Store) -> None:
    keep(store, *three_rows(), labelled(4), row(5, kind="note", cup=NEW_LABEL, value="", unit=""))
    for code in (CUP, NEW_LABEL):
        (story,) = trace.stories(store, code)
        assert [one.seq for one in story.rows] == [1, 2, 3, 4, 5]
        assert story.code == NEW_LABEL
    assert [one.code for one in trace.latest_stories(store, 10)] == [NEW_LABEL]
    exported = read_log(log.export(store, cup=NEW_LABEL).encode())
    assert [line.seq for line in exported] == [1, 2, 3, 4, 5]


def test_a_label_used_twice_is_two_cups(store: Store) -> None:
    other = row(1, log_id=OTHER_LOG_ID, event_id=event_id(101), kind="cup_started", cup=NEW_LABEL)
    keep(store, *three_rows(), labelled(4), other)
    assert [len(story.rows) for story in trace.stories(store, NEW_LABEL)] == [4, 1]
    assert [len(story.rows) for story in trace.stories(store, CUP)] == [4]


def test_its_end_under_the_new_label_is_its_end(store: Store) -> None:
    keep(store, *three_rows(), labelled(4))
    assert len(trace.open_cups(store)) == 1
    keep(store, row(5, kind="scrapped", cup=NEW_LABEL, component="", value="", unit=""))
    assert trace.open_cups(store) == []


def test_a_phone_that_knows_only_the_beginning_is_told_the_end(store: Store) -> None:
    from_other = {"log_id": OTHER_LOG_ID, "cup": NEW_LABEL}
    keep(
        store,
        *three_rows(),
        labelled(1, event_id=event_id(101), after=event_id(3), **from_other),
        row(
            2, event_id=event_id(102), after=event_id(101), kind="scrapped", value="", **from_other
        ),
    )
    identity = catalogue.ServerIdentity("s", "e", False, "l")
    (told,) = bundle.gather(store, identity, "2026-03-08T12:00:00.000Z").open_cups
    assert told["code"] == NEW_LABEL
    assert [one["seq"] for one in told["rows"]] == [1, 2, 3, 1, 2]
    assert told["rows"][0]["log_id"] == LOG_ID
