"""Which temperatures the clocks of a lay-up count at.

A clock runs on over night while the shop cools and warms, so no single reading stands for all of
it: the one in force when the clock started counts, and every one since.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .climate import require_temperature
from .errors import OutOfRange
from .numbers import is_wire_number
from .rows import Row, voided_ids
from .times import milliseconds

# A reading speaks for the time after it, a day at most; common practice, no source.
IN_FORCE_MS = 24 * 60 * 60 * 1000
# Air stands in for a mould that was not measured with it or this long before; common practice,
# no source.
MOULD_MS = 2 * 60 * 60 * 1000
# Clocks of two phones may differ by this much; what is further ahead was written by a clock that
# is wrong. Common practice, no source.
AHEAD_MS = 10 * 60 * 1000


@dataclass(frozen=True, slots=True)
class Reading:
    """A temperature the laminate lay at.

    :ivar at_ms: milliseconds since 1970.
    :ivar temperature_c: 0 to 50 degrees Celsius.
    """

    at_ms: int
    temperature_c: float


def temperatures(rows: Iterable[Row], now_utc: str) -> tuple[Reading, ...]:
    """Readings of the mould, and of the air where the mould was not measured, the oldest first.

    :param rows: in any order; other kinds, struck rows and figures of no workshop are passed over.
    :param now_utc: RFC 3339; readings of a clock that runs ahead do not count yet.
    :raises OutOfRange: now_utc is no time.
    """
    every = list(rows)
    struck = voided_ids(every)
    latest_ms = milliseconds(now_utc) + AHEAD_MS
    standing = [row for row in every if row.event_id not in struck]
    mould = [found for found in _of(standing, "mould") if found.at_ms <= latest_ms]
    air = [
        found
        for found in _of(standing, "air")
        if found.at_ms <= latest_ms and not _is_with(found, mould)
    ]
    return tuple(sorted([*mould, *air], key=lambda found: (found.at_ms, found.temperature_c)))


def in_force(readings: Sequence[Reading], start_at: str) -> list[Reading]:
    """Readings a clock counts at: the last one when it started, and every one since.

    :param readings: the oldest first.
    :param start_at: RFC 3339.
    :return: empty where nothing was measured: then the sheet's own figure holds.
    :raises OutOfRange: start_at is no time.
    """
    start_ms = milliseconds(start_at)
    before = [one.at_ms for one in readings if start_ms - IN_FORCE_MS <= one.at_ms <= start_ms]
    first_ms = max(before, default=start_ms)
    return [one for one in readings if one.at_ms >= first_ms]


def _of(rows: Iterable[Row], component: str) -> list[Reading]:
    found = [_reading(row) for row in rows if (row.kind, row.component) == ("climate", component)]
    return [one for one in found if one is not None]


def _reading(row: Row) -> Reading | None:
    if not is_wire_number(row.value):
        return None
    try:
        require_temperature("temperature_c", float(row.value))
        return Reading(milliseconds(row.recorded_at), float(row.value))
    except OutOfRange:
        return None


def _is_with(air: Reading, mould: Sequence[Reading]) -> bool:
    return any(air.at_ms - MOULD_MS <= one.at_ms <= air.at_ms for one in mould)
