"""What the standing rows of a cup say besides its readings: acts, reasons, times, its end."""

from collections.abc import Iterable, Sequence

from ..numbers import is_wire_number
from ..rows import Row
from .mixing import MIXED_EARLY
from .pot_clock import OVER
from .state import Cover, LotUse, Use

#: Kinds that end a cup. What is left in it may still have to set.
ENDINGS = frozenset({"scrapped", "sampled", "leftover", "divided"})
_NO_VERDICT = frozenset({OVER, MIXED_EARLY})
_READINGS = frozenset({"weighed", "scale_restarted"})


def lots(standing: Iterable[Row]) -> tuple[LotUse, ...]:
    """Cans whose content went in, each with the reason why it was let pass, if one was needed."""
    listed = list(standing)
    reasons = {row.refers_to: row.note for row in listed if row.kind == "deviation"}
    return tuple(
        LotUse(row.component, row.lot, row.container, row.event_id, reasons.get(row.event_id, ""))
        for row in listed
        if row.kind == "lot_used"
    )


def uses(standing: Iterable[Row]) -> tuple[Use, ...]:
    """Steps it was poured into."""
    return tuple(
        Use(row.job, row.step, row.recorded_at) for row in standing if row.kind == "poured"
    )


def covers(standing: Iterable[Row]) -> tuple[Cover, ...]:
    """When something was laid on it, or taken off."""
    return tuple(
        Cover(row.recorded_at, row.kind == "covered")
        for row in standing
        if row.kind in ("covered", "uncovered")
    )


def deviation(standing: Sequence[Row]) -> str:
    """Reason under which a cup out of tolerance may be used, if one was written."""
    readings = {row.event_id for row in standing if row.kind == "weighed"}
    reasons = [
        row.note
        for row in standing
        if row.kind == "deviation" and row.refers_to in readings and row.shown not in _NO_VERDICT
    ]
    return reasons[-1] if reasons else ""


def reason_shown(standing: Iterable[Row], shown: str) -> str:
    """Reason under which a cup goes on although a clock speaks against it; it lets no ratio pass.

    :param shown: what spoke against it, as it stands in the row.
    """
    reasons = [row.note for row in standing if row.kind == "deviation" and row.shown == shown]
    return reasons[-1] if reasons else ""


def first_at(standing: Iterable[Row], kind: str) -> str:
    """When the first row of a kind was written, RFC 3339; empty where there is none."""
    return next((row.recorded_at for row in standing if row.kind == kind), "")


def first_contact_at(standing: Sequence[Row]) -> str:
    """When hardener was opened; a cup whose opening was never recorded counts from its first B."""
    read_at = (
        row.recorded_at for row in standing if row.kind in _READINGS and row.component == "b"
    )
    return first_at(standing, "pour_opened") or next(read_at, "")


def read_at(standing: Iterable[Row], component: str) -> tuple[str, str]:
    """When a component was read first, and last, which may be it read again."""
    times = [
        row.recorded_at for row in standing if row.kind in _READINGS and row.component == component
    ]
    return (times[0], times[-1]) if times else ("", "")


def ending(standing: Iterable[Row]) -> Row | None:
    """The row that ended it."""
    return next((row for row in standing if row.kind in ENDINGS), None)


def setting(standing: Iterable[Row]) -> Row | None:
    """The row that says since when, and where, its rest is left to set."""
    return next((row for row in standing if row.kind == "setting"), None)


def number(text: str) -> float | None:
    """A figure of the log; None where there is none."""
    return float(text) if is_wire_number(text) else None
