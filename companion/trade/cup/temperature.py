"""The temperature a cup is counted at: warmth shortens its time, and a clock never gets longer."""

from collections.abc import Iterable, Sequence

from ..air import LONGEST_MIN, measured, workshop_c
from ..rows import Row
from ..times import seconds_between

#: An older figure of the same day still counts: as the warmest of all counts, it can only make a
#: limit stricter. Common practice, no source.
_DAY_S = 24 * 3600.0
_COMPONENTS = ("air", "mould")


def cup_temperature_c(
    rows: Iterable[Row], now_utc: str, first_contact_at: str = ""
) -> float | None:
    """Warmest temperature that counts for a cup: of the air it stands in and of the mould.

    Before resin meets hardener these are the newest figures of a day. From then on nothing that
    was measured in the two hours before, or since, is dropped again: what the mix has lived
    through in the warmth is gone, whatever the thermometer shows later.

    :param rows: of no cup, in any order.
    :param now_utc: time now, RFC 3339.
    :param first_contact_at: when resin met hardener, RFC 3339; empty where it did not yet.
    :return: degrees Celsius, 0 to 50; None if nothing was measured in time.
    :source: the safe side, common practice, no source; tests/cases/air.json.
    """
    told = [row for row in measured(rows, now_utc) if _is_temperature(row)]
    if first_contact_at:
        before = [row for row in told if seconds_between(row.recorded_at, first_contact_at) >= 0]
        counted = _newest(before, first_contact_at) + _since(told, first_contact_at)
    else:
        counted = _newest(told, now_utc)
    return max((float(row.value) for row in counted), default=None)


def _is_temperature(row: Row) -> bool:
    return row.component in _COMPONENTS and workshop_c(float(row.value)) is not None


def _newest(told: Sequence[Row], at_utc: str) -> list[Row]:
    """The newest figure of each kind, no older than a day."""
    newest = {row.component: row for row in told}
    return [row for row in newest.values() if seconds_between(row.recorded_at, at_utc) <= _DAY_S]


def _since(told: Sequence[Row], first_contact_at: str) -> list[Row]:
    longest_s = LONGEST_MIN * 60
    return [row for row in told if seconds_between(row.recorded_at, first_contact_at) <= longest_s]
