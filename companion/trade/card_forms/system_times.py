"""Times of a system: pot life at up to four temperatures, tack window, cure.

Pot life and mixing are typed in minutes, tack and cure in hours, as sheets print them.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..cards import Cure, PotLife, TackWindow
from .typed import Reader, Span, plain

MOST_POINTS = 4
_MORE = range(2, MOST_POINTS + 1)
#: What no sheet goes beyond; common practice, no source.
TIME_SPANS = {
    "pot_1_min": Span(0.5, 1440),
    "pot_1_mass_g": Span(1, 100_000),
    "pot_1_c": Span(0, 80),
    **{f"pot_{number}_min": Span(0.5, 1440) for number in _MORE},
    **{f"pot_{number}_c": Span(0, 80) for number in _MORE},
    "tack_opens_h": Span(0, 500),
    "tack_closes_h": Span(0.1, 1000),
    "tack_c": Span(0, 80),
    "demould_h": Span(0.1, 1000),
    "full_h": Span(0.1, 5000),
    "cure_c": Span(0, 200),
}
TIME_FIELDS = tuple(TIME_SPANS)
_MINUTES_PER_HOUR = 60
# Hours are typed with at most six decimals; a thousandth of a minute undoes their rounding.
_MINUTE_DECIMALS = 3


@dataclass(frozen=True, slots=True)
class SystemTimes:
    """The times of one system; what the sheet does not say is None."""

    pot_life: PotLife | None = None
    more_pot_life: tuple[PotLife, ...] = ()
    tack: TackWindow | None = None
    cure: Cure | None = None


def read_times(reader: Reader) -> SystemTimes:
    """Times as typed; problems stay with the reader."""
    pot_life = _first_point(reader)
    more = _further_points(reader, pot_life)
    return SystemTimes(pot_life, more, _tack(reader), _cure(reader))


def write_times(times: SystemTimes) -> dict[str, str]:
    """Times as the text of their fields."""
    first, tack, cure = times.pot_life, times.tack, times.cure
    points = dict(zip(_MORE, times.more_pot_life, strict=False))
    return {
        "pot_1_min": plain(first.minutes) if first else "",
        "pot_1_mass_g": plain(first.test_mass_g) if first else "",
        "pot_1_c": plain(first.temperature_c) if first else "",
        **{f"pot_{n}_min": plain(points[n].minutes) if n in points else "" for n in _MORE},
        **{f"pot_{n}_c": plain(points[n].temperature_c) if n in points else "" for n in _MORE},
        "tack_opens_h": _hours(tack.opens_min) if tack else "",
        "tack_closes_h": _hours(tack.closes_min) if tack else "",
        "tack_c": plain(tack.temperature_c) if tack else "",
        "demould_h": _hours(cure.demould_min) if cure else "",
        "full_h": _hours(cure.full_min) if cure else "",
        "cure_c": plain(cure.temperature_c) if cure else "",
    }


def _first_point(reader: Reader) -> PotLife | None:
    found = reader.group("pot_1_min", "pot_1_mass_g", "pot_1_c")
    return PotLife(*found) if found else None


def _further_points(reader: Reader, first: PotLife | None) -> tuple[PotLife, ...]:
    """Pot life at other temperatures, for the same mass of mix."""
    points: list[tuple[int, PotLife]] = [(1, first)] if first else []
    for number in _MORE:
        found = reader.group(f"pot_{number}_min", f"pot_{number}_c")
        if found is None:
            continue
        if not reader.raw("pot_1_min"):
            reader.refuse("pot_1_min", "first_point_needed")
        if first:
            points.append((number, PotLife(found[0], first.test_mass_g, found[1])))
    _check_order(reader, points)
    return tuple(point for number, point in points if number > 1)


def _check_order(reader: Reader, points: Sequence[tuple[int, PotLife]]) -> None:
    """A warmer mix sets sooner; a sheet that seems to say otherwise was copied wrongly."""
    for number, point in points[1:]:
        for other in _others(number, points):
            at = plain(other.temperature_c)
            if point.temperature_c == other.temperature_c:
                reader.refuse(f"pot_{number}_c", "same_temperature", at)
            elif _sets_later_when_warmer(point, other):
                reader.refuse(f"pot_{number}_min", "warmer_longer", plain(other.minutes), at)


def _sets_later_when_warmer(one: PotLife, other: PotLife) -> bool:
    cold, warm = sorted((one, other), key=lambda point: point.temperature_c)
    return warm.minutes >= cold.minutes


def _others(number: int, points: Sequence[tuple[int, PotLife]]) -> Iterable[PotLife]:
    return (point for place, point in points if place < number)


def _tack(reader: Reader) -> TackWindow | None:
    found = reader.group("tack_opens_h", "tack_closes_h", "tack_c")
    if found is None:
        return None
    opens_min, closes_min = _minutes(found[0]), _minutes(found[1])
    if closes_min <= opens_min:
        reader.refuse("tack_closes_h", "not_after", reader.raw("tack_opens_h"))
    return TackWindow(opens_min, closes_min, found[2])


def _cure(reader: Reader) -> Cure | None:
    full_h = reader.figure("full_h")
    needed = ("demould_h", "cure_c")
    if reader.raw("full_h") and not any(map(reader.raw, needed)):
        reader.refuse("demould_h", "belongs_together")
    found = reader.group(*needed)
    if found is None:
        return None
    demould_min = _minutes(found[0])
    full_min = None if full_h is None else _minutes(full_h)
    if full_min is not None and full_min < demould_min:
        reader.refuse("full_h", "not_before", reader.raw("demould_h"))
    return Cure(demould_min, full_min, found[1])


def _minutes(hours: float) -> float:
    return round(hours * _MINUTES_PER_HOUR, _MINUTE_DECIMALS)


def _hours(minutes: float | None) -> str:
    return "" if minutes is None else plain(minutes / _MINUTES_PER_HOUR)
