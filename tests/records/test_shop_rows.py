"""What a phone is told of no cup: steps of the jobs under way, and what their clocks count at."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.records import catalogue, lay_up_sheets, log
from companion.records.store import Store
from companion.trade.cards import Job
from companion.trade.job_order import JobOrder, PlyOrder
from tests.records.shop_records import AT, opened
from tests.sample_rows import LOG_ID, lines, row

NONE = dict.fromkeys(("cup", "after", "component", "value", "unit", "typed", "job", "step"), "")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    found = opened(tmp_path / "records.sqlite3")
    order = JobOrder("14", "hatch", 0.34, 0.48, (PlyOrder("C200", 200),), "RES-L+HRD-S")
    catalogue.put(found, Job("14", 1, "hatch", order), AT)
    yield found
    found.close()


def bring(store: Store, number: int, **fact: str) -> None:
    made = lines([row(number, **{**NONE, **fact})])
    assert log.append(store, LOG_ID, made, log.Contact(AT)).results[0].status == log.STORED


def test_a_part_is_in_the_mould_until_its_sample_was_hard(store: Store) -> None:
    out = {"kind": "step_done", "job": "14@1", "step": "demould"}
    bring(store, 1, **out, note="sample soft")
    assert [sheet.job for sheet in lay_up_sheets.open_sheets(store)] == ["14@1"]
    bring(store, 2, **out, note="sample hard")
    assert lay_up_sheets.open_sheets(store) == []


def test_readings_are_told_for_as_long_as_a_full_cure_counts_at_them(store: Store) -> None:
    mould = {"kind": "climate", "component": "mould", "unit": "Cel"}
    bring(store, 1, **mould, value="18", recorded_at="2026-03-07T09:00:00.000Z")
    sheets = lay_up_sheets.open_sheets(store)
    for now_utc, count in (("2026-03-15T08:59:00.000Z", 1), ("2026-03-15T09:01:00.000Z", 0)):
        assert len(lay_up_sheets.shop_rows(store, sheets, now_utc)) == count
