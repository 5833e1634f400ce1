"""The records as tables: every row has its line, however strange it is."""

from dataclasses import replace
from pathlib import Path

import pytest

from companion.records import log, tables, trace
from companion.records.tables import COLUMNS, CUPS, READINGS, Speech
from companion.trade.errors import OutOfRange
from companion.wire.people_csv import Figure, Manner, Moment, write_table
from tests.records.test_lineage import taken
from tests.records.test_office_log import CONTACT, cup, fresh
from tests.sample_rows import LOG_ID, lines, row


@pytest.fixture
def stories(tmp_path: Path):
    store = fresh(tmp_path / "records.sqlite3")
    odd = [
        row(7, kind="stirred", value="", unit="", typed="", recorded_at="0001-01-01T00:00:00.000Z"),
        row(8, kind="weighed", component="b", value="155.3", refers_to=cup()[4].event_id),
        row(9, kind="voided", refers_to="019abcde-0000-7000-8000-000000000006", value="", unit=""),
    ]
    log.append(store, LOG_ID, lines([*cup(), taken(6), *odd]), CONTACT)
    yield trace.all_stories(store)
    store.close()


def test_a_cup_is_one_line(stories) -> None:
    (line,) = tables.table(CUPS, stories, Speech())
    told = dict(zip(COLUMNS[CUPS], line, strict=True))
    assert (told["cup"], told["verdict"], told["state"]) == ("7K2QMS", "in", "judged")
    # B was read again: 155.3 - 121.3 = 34.0 g; the lot was struck.
    assert (told["part_a_g"], told["part_b_g"]) == (Figure("112.9"), Figure("34.0"))
    assert (told["lots_a"], told["lots_b"]) == ("", "")
    assert told["started"] == Moment("2026-03-07 11:01:00")


def test_every_row_is_a_line_and_what_was_struck_says_so(stories) -> None:
    found = [
        dict(zip(COLUMNS[READINGS], line, strict=True))
        for line in tables.table(READINGS, stories, Speech())
    ]
    assert [one["what"] for one in found][5:] == ["lot used", "stirred", "weighed", "voided"]
    assert [one["struck"] for one in found] == ["", "", "", "", "replaced", "struck", "", "", ""]
    assert found[6]["time"] == Moment("0001-01-01 01:00:00")
    write_table(COLUMNS[READINGS], tables.table(READINGS, stories, Speech()), Manner())


def test_a_cup_whose_cards_are_not_here_has_its_line_all_the_same(stories) -> None:
    strangers = [replace(story, cup=None, system=None, scale=None) for story in stories]
    (line,) = tables.table(CUPS, strangers, Speech())
    assert len(line) == len(COLUMNS[CUPS])
    assert Figure("112.9") not in line


def test_a_table_there_is_not_is_refused(stories) -> None:
    with pytest.raises(OutOfRange):
        list(tables.table("rows", stories, Speech()))
