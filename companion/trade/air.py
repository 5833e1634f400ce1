"""Air and mould of the shop, folded from what was measured.

Three readings count together: air, humidity, and the mould where the laminate will lie. Each is
the newest of its kind; none counts longer than two hours.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from math import floor

from .climate import (
    LEAST_MARGIN_K,
    dew_point_c,
    largest_humidity_pct,
    margin_k,
    may_lay_up,
    require_temperature,
)
from .errors import OutOfRange
from .numbers import fixed, is_wire_number
from .rows import Row, voided_ids
from .times import seconds_between

# Air and mould are measured again each 1 to 2 h; common practice, no source.
LONGEST_MIN = 120.0
# Clocks of two phones may differ by this much; a reading from further ahead comes from a clock
# that was wrong, and would hide every later one. Common practice, no source.
AHEAD_MIN = 10.0
COMPONENTS = ("air", "humidity", "mould")
# Moments are compared by their distance from here: how many digits a second has differs.
_EPOCH = "2000-01-01T00:00:00.000Z"


class AirWord(StrEnum):
    """Whether a mould may be laid up."""

    GO = "go"
    HOLD = "hold"
    #: something is missing, too old, or no figure of a workshop: measure again.
    ASK = "ask"


@dataclass(frozen=True, slots=True)
class Air:
    """The shop as last measured; None where something was not.

    :ivar measured_at: of the oldest of the three, RFC 3339; empty if none was measured.
    :ivar age_min: of the same one.
    :ivar air_age_min: of the air's temperature alone; mould_age_min likewise.
    :ivar margin_k: mould above dew point, kelvin; negative where water stands on the mould.
    """

    air_c: float | None
    humidity_pct: float | None
    mould_c: float | None
    measured_at: str
    age_min: float | None
    air_age_min: float | None
    mould_age_min: float | None
    dew_point_c: float | None
    margin_k: float | None
    word: AirWord


def fold_air(rows: Iterable[Row], now_utc: str) -> Air:
    """The shop's air and mould from rows of kind ``climate``.

    :param rows: in any order; other kinds are passed over, struck rows too.
    :param now_utc: time now, RFC 3339.
    :source: WMO-No. 8, Annex 4.B, by ``climate``; T11 in tests/cases/air.json.
    """
    newest = {row.component: row for row in measured(rows, now_utc)}
    air, humidity, mould = (newest.get(name) for name in COMPONENTS)
    oldest = min(newest.values(), key=_order, default=None)
    age_min = _age_min(oldest, now_utc)
    figures = (_figure(air), _figure(humidity), _figure(mould))
    dew_c, margin = _judged(*figures)
    return Air(
        *figures,
        measured_at=oldest.recorded_at if oldest else "",
        age_min=age_min,
        air_age_min=_age_min(air, now_utc),
        mould_age_min=_age_min(mould, now_utc),
        dew_point_c=dew_c,
        margin_k=margin,
        word=_word(margin, age_min),
    )


def work_temperature_c(air: Air) -> float | None:
    """Temperature the laminate lies at: the mould's, else the air's.

    :return: degrees Celsius, 0 to 50; None if neither was measured in the last two hours.
    """
    mould_c = _in_time(air.mould_c, air.mould_age_min)
    return _in_time(air.air_c, air.air_age_min) if mould_c is None else mould_c


def coldest_c(air: Air) -> float | None:
    """The colder of air and mould, for the least temperature a sheet asks for.

    :return: degrees Celsius, 0 to 50; None if neither was measured in the last two hours.
    """
    return min(_measured_in_time(air), default=None)


def shown_margin_k(margin: float) -> str:
    """A margin with one decimal, never rounded up to the least that is asked.

    :param margin: kelvin.
    :source: 2.96 K is not enough and must not be read as 3.0.
    """
    return fixed(margin if may_lay_up(margin) else min(margin, LEAST_MARGIN_K - 0.1), 1)


def humidity_limit_pct(air: Air) -> float | None:
    """Humidity up to which this mould keeps its margin, whole per cent, rounded down.

    :return: None where air or mould was not measured or is out of the formula's range.
    :source: CU-15 by ``climate``.
    """
    if air.air_c is None or air.mould_c is None:
        return None
    try:
        return float(floor(largest_humidity_pct(air.mould_c, air.air_c) + 1e-9))
    except OutOfRange:
        return None


def measured(rows: Iterable[Row], now_utc: str) -> list[Row]:
    """Readings of air, humidity and mould that stand, the oldest first.

    :param rows: in any order; other kinds are passed over, struck rows and those of a clock that
        was wrong too.
    :param now_utc: time now, RFC 3339.
    """
    told = list(rows)
    struck = voided_ids(told)
    counted = (row for row in told if row.event_id not in struck and _counts(row, now_utc))
    return sorted(counted, key=_order)


def workshop_c(value_c: float) -> float | None:
    """A temperature as it is; None where no workshop has it (outside 0 to 50 degrees Celsius)."""
    try:
        require_temperature("temperature_c", value_c)
    except OutOfRange:
        return None
    return value_c


def _counts(row: Row, now_utc: str) -> bool:
    if row.kind != "climate" or row.component not in COMPONENTS or not is_wire_number(row.value):
        return False
    try:
        return seconds_between(now_utc, row.recorded_at) <= AHEAD_MIN * 60
    except OutOfRange:
        return False


def _order(row: Row) -> tuple[float, str, int]:
    return seconds_between(_EPOCH, row.recorded_at), row.log_id, row.seq


def _figure(row: Row | None) -> float | None:
    return None if row is None else float(row.value)


def _age_min(row: Row | None, now_utc: str) -> float | None:
    return None if row is None else max(0.0, seconds_between(row.recorded_at, now_utc) / 60)


def _judged(
    air_c: float | None, humidity_pct: float | None, mould_c: float | None
) -> tuple[float | None, float | None]:
    if air_c is None or humidity_pct is None:
        return None, None
    try:
        dew_c = dew_point_c(air_c, humidity_pct)
        return dew_c, None if mould_c is None else margin_k(mould_c, air_c, humidity_pct)
    except OutOfRange:
        return None, None


def _word(margin: float | None, age_min: float | None) -> AirWord:
    if margin is None or age_min is None or age_min > LONGEST_MIN:
        return AirWord.ASK
    return AirWord.GO if may_lay_up(margin) else AirWord.HOLD


def _measured_in_time(air: Air) -> list[float]:
    both = (
        _in_time(air.air_c, air.air_age_min),
        _in_time(air.mould_c, air.mould_age_min),
    )
    return [value for value in both if value is not None]


def _in_time(value_c: float | None, age_min: float | None) -> float | None:
    if value_c is None or age_min is None or age_min > LONGEST_MIN:
        return None
    return workshop_c(value_c)
