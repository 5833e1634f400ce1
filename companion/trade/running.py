"""The clocks that run: of cups, of steps, of the shop; sorted by their next limit.

Wall-clock times make them, so a phone that died or a screen that was closed changes nothing. A
figure that is on no card makes no limit: such a clock only says since when it runs.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum

from .auto_off import nag_after_s
from .cards import Lot, ScaleCard, SystemCard
from .clocks import pot_life_min
from .constants import POT_LIFE_WARN_SHARE
from .cup import Cup, CupState
from .cup.mixing import mix_times
from .cup.waiting import COVERED_MIN, UNCOVERED_MIN, waiting
from .lay_up_state import State, StepState
from .times import format_utc, parse_utc, seconds_between

# A rest that sets is looked at again and again; common practice, no source.
LOOK_AGAIN_MIN = 30.0
# Air and mould are measured again each 1 to 2 h; common practice, no source.
CLIMATE_SOON_MIN, CLIMATE_OVER_MIN = 60.0, 120.0
# A scale is checked each day; common practice, no source.
CHECK_MIN = 24 * 60.0
# A lot is named this long before it expires; common practice, no source.
EXPIRY_DAYS = 7
# The records are to be copied within a week; common practice, no source.
COPY_MIN = 7 * 24 * 60.0


class Tempo(StrEnum):
    """How a clock stands to its limit."""

    RUNNING = "running"
    SOON = "soon"
    OVER = "over"
    #: what was waited for may be done.
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Clock:
    """One clock; times RFC 3339, empty where there is none.

    :ivar kind: what runs, a word the screens say.
    :ivar about: code of the cup, name of the step, code of scale or lot.
    :ivar job: of a step.
    :ivar next_at: the next limit; empty where no figure makes one.
    """

    kind: str
    about: str
    job: str
    since: str
    next_at: str
    tempo: Tempo


def cup_clocks(
    cup: Cup, system: SystemCard, now_utc: str, temperature_c: float | None
) -> tuple[Clock, ...]:
    """Clocks of one cup: part A waiting, pot life, mixing, resin on the part, a rest that sets.

    :param temperature_c: warmest that counts for the cup, degrees Celsius, None if not known.
    :source: limits of ``clocks``, ``cup.mixing``, ``cup.waiting``; tests/cases/running.json.
    """
    found = [
        *_waiting(cup, now_utc),
        *_pot(cup, system, now_utc, temperature_c),
        *_mixing(cup, system, now_utc),
    ]
    if cup.state is CupState.IN_USE:
        # How long it may be worked on the part stands on the sheet, and on no card.
        found.append(Clock("open_time", cup.code, "", cup.uses[-1].at, "", Tempo.RUNNING))
    if cup.state is CupState.SETTING:
        found.append(_look_again(cup, now_utc))
    return tuple(found)


def _waiting(cup: Cup, now_utc: str) -> list[Clock]:
    waited = waiting(cup, now_utc)
    if waited is None:
        return []
    left_min = COVERED_MIN - waited.read_min
    if not waited.covered:
        left_min = min(left_min, UNCOVERED_MIN - waited.uncovered_min)
    next_at = _after(now_utc, left_min)
    tempo = Tempo.OVER if left_min <= 0 else Tempo.RUNNING
    return [Clock("a_waiting", cup.code, "", cup.a_read_at, next_at, tempo)]


def _pot(cup: Cup, system: SystemCard, now_utc: str, temperature_c: float | None) -> list[Clock]:
    runs = cup.state not in (CupState.SETTING, CupState.CLOSED) and cup.first_contact_at
    if not runs:
        return []
    pot_min = pot_life_min(system, temperature_c)
    if pot_min is None:
        return [Clock("pot", cup.code, "", cup.first_contact_at, "", Tempo.RUNNING)]
    amber_at = _after(cup.first_contact_at, pot_min * POT_LIFE_WARN_SHARE)
    ends_at = _after(cup.first_contact_at, pot_min)
    tempo = _tempo(now_utc, amber_at, ends_at)
    next_at = amber_at if tempo is Tempo.RUNNING else ends_at
    return [Clock("pot", cup.code, "", cup.first_contact_at, next_at, tempo)]


def _mixing(cup: Cup, system: SystemCard, now_utc: str) -> list[Clock]:
    if cup.state is not CupState.MIXING:
        return []
    times = mix_times(cup, system)
    kind = "mixing" if cup.scraped_at else "scrape"
    next_at = times.ends_at if cup.scraped_at else times.scrape_at
    # What was waited for may be done then: mixing for longer harms nothing but the pot life.
    is_open = bool(next_at) and seconds_between(next_at, now_utc) >= 0
    tempo = Tempo.OPEN if is_open else Tempo.RUNNING
    return [Clock(kind, cup.code, "", cup.mix_started_at, next_at, tempo)]


def _look_again(cup: Cup, now_utc: str) -> Clock:
    gone_min = max(0.0, seconds_between(cup.set_at, now_utc)) / 60
    looks = int(gone_min // LOOK_AGAIN_MIN) + 1
    next_at = _after(cup.set_at, looks * LOOK_AGAIN_MIN)
    return Clock("setting", cup.code, "", cup.set_at, next_at, Tempo.RUNNING)


def step_clocks(steps: Sequence[StepState], job: str, now_utc: str) -> tuple[Clock, ...]:
    """Clocks of one lay-up sheet: what a step waits for, until when it is open, the full cure.

    :param steps: as the sheet was folded.
    :source: limits of ``lay_up_clocks``.
    """
    found = []
    for step in steps:
        name, kind = step.step.name, step.step.kind
        if step.state is State.WAITING and step.opens_at:
            is_open = seconds_between(step.opens_at, now_utc) >= 0
            tempo = Tempo.OPEN if is_open else Tempo.RUNNING
            found.append(Clock(f"opens_{kind}", name, job, step.started_at, step.opens_at, tempo))
        if step.state in (State.READY, State.RUNNING, State.WAITING) and step.closes_at:
            tempo = _tempo(now_utc, step.closes_at, step.closes_at)
            found.append(Clock(f"closes_{kind}", name, job, step.started_at, step.closes_at, tempo))
        if step.state is State.LATE and step.closes_at:
            found.append(
                Clock(f"closes_{kind}", name, job, step.started_at, step.closes_at, Tempo.OVER)
            )
        if kind == "cure" and step.full_at and seconds_between(step.full_at, now_utc) < 0:
            found.append(
                Clock("full_cure", name, job, step.started_at, step.full_at, Tempo.RUNNING)
            )
    return tuple(found)


def climate_clock(measured_at: str, now_utc: str) -> Clock:
    """When air and mould are to be measured again; at once where they never were.

    :param measured_at: when the oldest of the three was, RFC 3339; empty if never.
    """
    if not measured_at:
        return Clock("climate", "", "", "", now_utc, Tempo.OVER)
    soon_at, over_at = _after(measured_at, CLIMATE_SOON_MIN), _after(measured_at, CLIMATE_OVER_MIN)
    tempo = _tempo(now_utc, soon_at, over_at)
    next_at = soon_at if tempo is Tempo.RUNNING else over_at
    return Clock("climate", "", "", measured_at, next_at, tempo)


def auto_off_clock(scale: ScaleCard, read_at: str, now_utc: str) -> tuple[Clock, ...]:
    """When a scale that stands still switches itself off, and the reading on it is lost.

    :param read_at: the last reading on it, RFC 3339.
    :return: none for a scale that stays on, or whose card does not say.
    """
    nag_s = nag_after_s(scale)
    if nag_s is None or scale.auto_off_s is None:
        return ()
    soon_at, over_at = _after(read_at, nag_s / 60), _after(read_at, scale.auto_off_s / 60)
    tempo = _tempo(now_utc, soon_at, over_at)
    next_at = soon_at if tempo is Tempo.RUNNING else over_at
    return (Clock("auto_off", scale.code, "", read_at, next_at, tempo),)


def check_clock(scale: str, checked_at: str, now_utc: str) -> Clock:
    """When a scale is to be checked again; at once where it never was."""
    return _daily("check", scale, checked_at, CHECK_MIN, now_utc)


def copy_clock(copied_at: str, now_utc: str) -> Clock:
    """When the records of a phone are to be copied again; it never stops a pour."""
    return _daily("copy", "", copied_at, COPY_MIN, now_utc)


def _daily(kind: str, about: str, done_at: str, minutes: float, now_utc: str) -> Clock:
    if not done_at:
        return Clock(kind, about, "", "", now_utc, Tempo.OVER)
    next_at = _after(done_at, minutes)
    return Clock(kind, about, "", done_at, next_at, _tempo(now_utc, next_at, next_at))


def expiry_clocks(lots: Iterable[Lot], now_utc: str) -> tuple[Clock, ...]:
    """Lots that expire within a week, or did; a lot may be used until the end of its last day."""
    found = []
    for lot in lots:
        if not lot.expires_on:
            continue
        over_at = _after(f"{lot.expires_on}T00:00:00.000Z", 24 * 60.0)
        soon_at = _after(over_at, -EXPIRY_DAYS * 24 * 60.0)
        tempo = _tempo(now_utc, soon_at, over_at)
        if tempo is not Tempo.RUNNING:
            found.append(Clock("expiry", lot.code, "", "", over_at, tempo))
    return tuple(found)


def by_next_limit(clocks: Iterable[Clock]) -> tuple[Clock, ...]:
    """Clocks in the order of their next limits; those without one last."""
    return tuple(sorted(clocks, key=lambda one: (one.next_at or "~", one.kind, one.about, one.job)))


def _tempo(now_utc: str, soon_at: str, over_at: str) -> Tempo:
    if seconds_between(over_at, now_utc) >= 0:
        return Tempo.OVER
    return Tempo.SOON if seconds_between(soon_at, now_utc) >= 0 else Tempo.RUNNING


def _after(at: str, minutes: float) -> str:
    return format_utc(parse_utc(at) + timedelta(minutes=minutes))
