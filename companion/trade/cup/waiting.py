"""Part A that was weighed and waits for its hardener: how long, and how long uncovered.

Dust falls into it and moisture gets to it. After a look and a new reading the time counts anew.
"""

from dataclasses import dataclass

from ..times import seconds_between
from .progress import CupState
from .state import Cup

# Minutes part A may wait uncovered, and in all; common practice, no source.
UNCOVERED_MIN = 30.0
COVERED_MIN = 24 * 60.0
UNCOVERED_LONG = "waited_uncovered"
COVERED_LONG = "waited_long"


@dataclass(frozen=True, slots=True)
class Waiting:
    """Minutes since part A was read first, since it was read last, and of these uncovered."""

    since_min: float
    read_min: float
    uncovered_min: float
    covered: bool


def waiting(cup: Cup, now_utc: str) -> Waiting | None:
    """How long the part A of a cup has waited.

    :param now_utc: time now, RFC 3339.
    :return: minutes, unrounded, 0 and more; None where it does not wait.
    :source: common practice, no source; tests/cases/waiting.json.
    """
    if cup.state is not CupState.A_WAITING or not cup.a_read_at:
        return None
    uncovered_s, since, covered = 0.0, cup.a_read_at, False
    for cover in cup.covers:
        # What was laid on it before the last reading came off to read it.
        if seconds_between(cup.a_read_at, cover.at) < 0 or cover.on == covered:
            continue
        if cover.on:
            uncovered_s += max(0.0, seconds_between(since, cover.at))
        since, covered = cover.at, cover.on
    if not covered:
        uncovered_s += max(0.0, seconds_between(since, now_utc))
    return Waiting(
        since_min=max(0.0, seconds_between(cup.a_weighed_at, now_utc)) / 60,
        read_min=max(0.0, seconds_between(cup.a_read_at, now_utc)) / 60,
        uncovered_min=uncovered_s / 60,
        covered=covered,
    )


def waiting_cautions(cup: Cup, now_utc: str) -> tuple[str, ...]:
    """Whether part A waited too long: look at it and read it again, or scrap it."""
    waited = waiting(cup, now_utc)
    if waited is None:
        return ()
    cautions = {
        UNCOVERED_LONG: waited.uncovered_min >= UNCOVERED_MIN,
        COVERED_LONG: waited.read_min >= COVERED_MIN,
    }
    return tuple(name for name, raised in cautions.items() if raised)
