"""Times of the log: RFC 3339 in UTC with milliseconds, ``2026-03-07T10:14:00.000Z``."""

import re
from datetime import UTC, datetime, timedelta

from .errors import OutOfRange

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_WIRE_TIME = re.compile(
    # The clock stands in the pattern: which hours a parser lets pass differs between versions.
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](\.[0-9]{1,6})?"
    r"(Z|[+-]([01][0-9]|2[0-3]):[0-5][0-9])\Z"
)


def parse_utc(text: str) -> datetime:
    """Read a time with its offset.

    :param text: RFC 3339 date-time; the offset is mandatory.
    :return: the same moment in UTC.
    :raises OutOfRange: the text is no such time.
    :source: RFC 3339 section 5.6; CF-20 in tests/cases/times.json.
    """
    if _WIRE_TIME.match(text):
        try:
            return datetime.fromisoformat(text).astimezone(UTC)
        except (ValueError, OverflowError):
            pass
    raise OutOfRange("time", text, "a time such as 2026-03-07T10:14:00.000Z")


def format_utc(moment: datetime) -> str:
    """Write a moment as the log does: UTC, milliseconds, Z.

    :raises OutOfRange: the moment carries no offset.
    """
    if moment.tzinfo is None:
        raise OutOfRange("moment", moment, "a time with its offset")
    text = moment.astimezone(UTC).isoformat(timespec="milliseconds")
    return text.replace("+00:00", "Z")


def seconds_between(earlier: str, later: str) -> float:
    """Seconds from one time of the log to another; negative if the second is earlier."""
    return (parse_utc(later) - parse_utc(earlier)).total_seconds()


def milliseconds(at: str) -> int:
    """A time of the log as whole milliseconds since 1970, so that times compare.

    :raises OutOfRange: at is no time.
    """
    return (parse_utc(at) - _EPOCH) // timedelta(milliseconds=1)


def from_milliseconds(moment_ms: int) -> str:
    """A moment as the log writes it.

    :param moment_ms: since 1970.
    """
    return format_utc(_EPOCH + timedelta(milliseconds=moment_ms))
