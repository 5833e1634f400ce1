"""Rows of a phone for the tests."""

import uuid
from dataclasses import replace

from companion.trade.rows import Row
from companion.wire.log_csv import Line, read_log, write_log

LOG_ID = "11111111-2222-4333-8444-555555555555"
OTHER_LOG_ID = "99999999-2222-4333-8444-555555555555"
CUP = "7K2QMS"


def event_id(number: int) -> str:
    """A version 7 UUID that shows its number."""
    return f"019abcde-0000-7000-8000-{number:012d}"


def row(number: int, **fields: str | int) -> Row:
    """Row of one cup, following the row before it."""
    base = Row(
        log_id=LOG_ID,
        seq=number,
        event_id=event_id(number),
        after=event_id(number - 1) if number > 1 else "",
        recorded_at=f"2026-03-07T10:{number % 60:02d}:00.000Z",
        utc_offset_min="60",
        kind="weighed",
        cup=CUP,
        job="14@2",
        step="ply 1",
        component="a",
        value="121.5",
        unit="g",
        typed="121.5",
        scale="S1@1",
        person="O",
        system="RES-L+HRD-S@3",
        app_version="0.1.0+test",
    )
    return replace(base, **fields)  # type: ignore[arg-type]


def three_rows() -> list[Row]:
    """A cup started, its empty mass read, part A poured."""
    return [
        row(1, kind="cup_started", component="", value="146.4", typed=""),
        row(2, component="cup", value="8.4", typed="8.4"),
        row(3, note='said "fine", then left\r\nfor lunch'),
    ]


def lines(rows: list[Row]) -> list[Line]:
    """Rows as they come off the wire."""
    return read_log(write_log(rows).encode())


def fresh_log_id() -> str:
    """Id of a phone's log nobody has seen."""
    return str(uuid.uuid4())
