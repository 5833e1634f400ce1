"""How far a phone's clock is off, as a person reads it."""

# A phone this far off is pointed out, minutes; common practice, no source.
POINTED_OUT_ABOVE_MIN = 2.0
_MS_PER_MIN = 60_000


def minutes_fast(clock_offset_ms: int | None) -> float:
    """Minutes the phone's clock is ahead of the server's; below zero it is behind.

    :param clock_offset_ms: how far the phone is behind, milliseconds, None if never measured.
    :return: minutes, unrounded; 0 if never measured.
    """
    return 0.0 if clock_offset_ms is None else -clock_offset_ms / _MS_PER_MIN


def is_pointed_out(clock_offset_ms: int | None) -> bool:
    """Whether a person should set the clock of this phone."""
    return abs(minutes_fast(clock_offset_ms)) > POINTED_OUT_ABOVE_MIN
