"""When a step of the lay-up may begin, and until when: release coats, tack windows, cure.

Limits go to the safe side: what opens is rounded up to the minute, what closes is rounded down; a
window opens at the later and closes at the earlier of sheet and temperature. What opens counts at
the coldest that was measured since its clock started, what closes at the warmest, so that no
later reading moves a limit to the unsafe side. A figure that is not on the card starts no clock.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from .cards import Cure, ReleaseAgent, SystemCard, TackWindow
from .lay_up_warmth import Reading, in_force
from .times import from_milliseconds, milliseconds
from .warmth import TimePoint, halved_min, window_min

MINUTE_MS = 60000
# Takes the last bits of a product of minutes off before it is rounded, ms.
_NOISE_MS = 1e-6


@dataclass(frozen=True, slots=True)
class Limits:
    """From when and until when, RFC 3339; empty where there is no such limit.

    :ivar missing: the card does not say a figure that is needed.
    :ivar coldest_c: what ``opens_at`` was counted at; None where it is the sheet's own figure.
    :ivar warmest_c: the same for ``closes_at``.
    """

    opens_at: str = ""
    closes_at: str = ""
    missing: bool = False
    coldest_c: float | None = None
    warmest_c: float | None = None


def release_limits(agent: ReleaseAgent | None, is_last: bool, done_at: str) -> Limits:
    """When the next step may follow a coat of release agent.

    :param agent: None where its card is not known.
    :param is_last: whether what follows is no further coat.
    :param done_at: end of the coat, RFC 3339.
    :raises OutOfRange: done_at is no time.
    :source: order of the work, common practice, no source; the minutes are the data sheet's.
    """
    if agent is None:
        return Limits(missing=True)
    wait_min = agent.last_min if is_last else agent.between_min
    old_min = agent.too_old_min if is_last else None
    return Limits(
        "" if wait_min is None else _opening(done_at, wait_min),
        "" if old_min is None else _closing(done_at, old_min),
        missing=wait_min is None,
    )


def tack_limits(
    system: SystemCard | None, done_at: str, closes_from: str, readings: Sequence[Reading]
) -> Limits:
    """When the next layer bonds by itself on a coat or ply.

    :param done_at: end of the coat or ply, RFC 3339; the window opens so long after it.
    :param closes_from: when it lay at the earliest; the window closes so long after that.
    :param readings: the oldest first; none takes the sheet's times as they are.
    :raises OutOfRange: a time that is none.
    :source: ``warmth.window_min``; T12.
    """
    tack = system.tack if system else None
    if tack is None or not 0 < tack.opens_min < tack.closes_min:
        return Limits(missing=True)
    coldest_c = _coldest_c(readings, done_at)
    opens_min, _ = _window_min(tack, coldest_c)
    closes_at, warmest_c = _closed(tack, closes_from, readings)
    return Limits(_opening(done_at, opens_min), closes_at, False, coldest_c, warmest_c)


def cure_limits(system: SystemCard | None, done_at: str, readings: Sequence[Reading]) -> Limits:
    """When the part may leave the mould: the longer of sheet and temperature.

    :param done_at: end of the last layer, RFC 3339.
    :param readings: the oldest first.
    :raises OutOfRange: done_at is no time.
    :source: halving per 10 degrees C and the safe side, common practice, no source.
    """
    cure = system.cure if system else None
    if cure is None or not cure.demould_min > 0:
        return Limits(missing=True)
    coldest_c = _coldest_c(readings, done_at)
    opens_at = _opening(done_at, _slowed_min(cure.demould_min, cure, coldest_c))
    return Limits(opens_at, coldest_c=coldest_c)


def full_cure_at(system: SystemCard | None, done_at: str, readings: Sequence[Reading]) -> str:
    """From when the part has fully cured, and may be cut and sanded; ``cure_limits`` says the rest.

    :return: RFC 3339; empty where the card does not say it.
    """
    cure = system.cure if system else None
    if cure is None or cure.full_min is None or not cure.full_min > 0:
        return ""
    return _opening(done_at, _slowed_min(cure.full_min, cure, _coldest_c(readings, done_at)))


def is_too_cold(system: SystemCard | None, coldest_c: float | None) -> bool:
    """Whether shop or mould is colder than the sheet lets one work.

    :param coldest_c: the colder of air and mould; None where neither was measured.
    """
    least_c = system.minimum_c if system else None
    return least_c is not None and coldest_c is not None and coldest_c < least_c


def _coldest_c(readings: Sequence[Reading], start_at: str) -> float | None:
    return min((one.temperature_c for one in in_force(readings, start_at)), default=None)


def _closed(
    tack: TackWindow, closes_from: str, readings: Sequence[Reading]
) -> tuple[str, float | None]:
    """When a window closes, and the temperature it was counted at.

    A reading from after it had closed says nothing about the time before.
    """
    warmest_c: float | None = None
    closes_at = _closing(closes_from, tack.closes_min)
    for one in in_force(readings, closes_from):
        if one.at_ms >= milliseconds(closes_at):
            break
        warmest_c = one.temperature_c if warmest_c is None else max(warmest_c, one.temperature_c)
        closes_at = _closing(closes_from, _window_min(tack, warmest_c)[1])
    return closes_at, warmest_c


def _window_min(tack: TackWindow, temperature_c: float | None) -> tuple[float, float]:
    at_c = tack.temperature_c if temperature_c is None else temperature_c
    return window_min(tack.opens_min, tack.closes_min, tack.temperature_c, at_c)


def _slowed_min(minutes: float, cure: Cure, temperature_c: float | None) -> float:
    at_c = cure.temperature_c if temperature_c is None else temperature_c
    return max(minutes, halved_min(TimePoint(minutes, cure.temperature_c), at_c))


def _opening(at: str, minutes: float) -> str:
    """So many minutes later, rounded up to the minute.

    :raises OutOfRange: at is no time.
    """
    moment_ms = milliseconds(at) + ceil(minutes * MINUTE_MS - _NOISE_MS)
    return from_milliseconds(-(-moment_ms // MINUTE_MS) * MINUTE_MS)


def _closing(at: str, minutes: float) -> str:
    """So many minutes later, rounded down to the minute.

    :raises OutOfRange: at is no time.
    """
    moment_ms = milliseconds(at) + floor(minutes * MINUTE_MS + _NOISE_MS)
    return from_milliseconds(moment_ms // MINUTE_MS * MINUTE_MS)
