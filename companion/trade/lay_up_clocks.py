"""When a step of the lay-up may begin, and until when: release coats, tack windows, cure.

Limits go to the safe side: what opens is rounded up to the minute, what closes is rounded down; a
window opens at the later and closes at the earlier of sheet and temperature. A figure that is not
on the card starts no clock.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import ceil, floor

from .cards import ReleaseAgent, SystemCard
from .times import format_utc, parse_utc
from .warmth import TimePoint, halved_min, window_min

MINUTE_MS = 60000
# Takes the last bits of a product of minutes off before it is rounded, ms.
_NOISE_MS = 1e-6
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Limits:
    """From when and until when, RFC 3339; empty where there is no such limit.

    :ivar missing: the card does not say a figure that is needed.
    """

    opens_at: str = ""
    closes_at: str = ""
    missing: bool = False


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


def tack_limits(system: SystemCard | None, done_at: str, temperature_c: float | None) -> Limits:
    """When the next layer bonds by itself on a coat or ply.

    :param done_at: end of the coat or ply, RFC 3339.
    :param temperature_c: of the mould or shop; None takes the sheet's times as they are.
    :raises OutOfRange: done_at is no time.
    :source: ``warmth.window_min``; T12.
    """
    tack = system.tack if system else None
    if tack is None or not 0 < tack.opens_min < tack.closes_min:
        return Limits(missing=True)
    sheet_c = tack.temperature_c
    at_c = sheet_c if temperature_c is None else temperature_c
    opens_min, closes_min = window_min(tack.opens_min, tack.closes_min, sheet_c, at_c)
    return Limits(_opening(done_at, opens_min), _closing(done_at, closes_min))


def cure_limits(system: SystemCard | None, done_at: str, temperature_c: float | None) -> Limits:
    """When the part may leave the mould: the longer of sheet and temperature.

    :param done_at: end of the last layer, RFC 3339.
    :raises OutOfRange: done_at is no time.
    :source: halving per 10 degrees C and the safe side, common practice, no source.
    """
    cure = system.cure if system else None
    if cure is None or not cure.demould_min > 0:
        return Limits(missing=True)
    at_c = cure.temperature_c if temperature_c is None else temperature_c
    scaled_min = halved_min(TimePoint(cure.demould_min, cure.temperature_c), at_c)
    return Limits(_opening(done_at, max(cure.demould_min, scaled_min)))


def _opening(at: str, minutes: float) -> str:
    """So many minutes later, rounded up to the minute.

    :raises OutOfRange: at is no time.
    """
    moment_ms = milliseconds(at) + ceil(minutes * MINUTE_MS - _NOISE_MS)
    return _text(-(-moment_ms // MINUTE_MS) * MINUTE_MS)


def _closing(at: str, minutes: float) -> str:
    """So many minutes later, rounded down to the minute.

    :raises OutOfRange: at is no time.
    """
    moment_ms = milliseconds(at) + floor(minutes * MINUTE_MS + _NOISE_MS)
    return _text(moment_ms // MINUTE_MS * MINUTE_MS)


def milliseconds(at: str) -> int:
    """A time of the log as whole milliseconds since 1970, so that times compare.

    :raises OutOfRange: at is no time.
    """
    return (parse_utc(at) - _EPOCH) // timedelta(milliseconds=1)


def _text(moment_ms: int) -> str:
    return format_utc(_EPOCH + timedelta(milliseconds=moment_ms))
