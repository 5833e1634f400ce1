"""Checks on a reading before it is taken.

The figure on the display must be one this scale can show, not below what stood there before, and
not a slip of the decimal or of the unit. Slips are named and asked about, never put right
silently.
"""

from dataclasses import dataclass
from math import floor, inf

from .cards import ScaleCard
from .constants import (
    GRAMS_PER_OUNCE,
    LIMIT_GUARD,
    SAME_LOAD_STEPS,
    SLIP_SHARE,
    STEP_GUARD,
    STICK_HEAVIEST_G,
    STICK_LIGHTEST_G,
)
from .numbers import Entry, fixed, parse_entry


@dataclass(frozen=True, slots=True)
class ReadingCheck:
    """A reading that may be taken, or what is wrong with it.

    ``problem`` empty: take it. ``ask`` true: take it only after the person has confirmed that it
    really stands on the display. ``proposal`` is the figure that may have been meant.
    """

    value: str = ""
    problem: str = ""
    ask: bool = False
    proposal: str = ""
    limit: str = ""


def check_reading(
    typed: str,
    scale: ScaleCard,
    *,
    before_g: float | None = None,
    expected_g: float | None = None,
    net_g: float | None = None,
    accept_low_g: float | None = None,
    accept_high_g: float | None = None,
    again: bool = False,
    confirmed: bool = False,
) -> ReadingCheck:
    """Judge a typed display reading.

    :param typed: what the person entered.
    :param scale: the scale beside the phone.
    :param before_g: display reading before this pour, grams, None if there is none.
    :param expected_g: display the pour was asked to stop at, grams, None if not known.
    :param net_g: what was to be added, grams, None if not known; it stands there after tare.
    :param accept_low_g: lowest display at which nothing is wrong, None where there is no window;
        ``accept_high_g`` the highest.
    :param again: true for a reading again, which may be lower than the one it replaces.
    :param confirmed: true once the person has answered the question about a slip.
    :return: the value to record, or the problem: those of ``parse_entry``, ``ounces``,
        ``tenfold``, ``decimals``, ``capacity``, ``step``, ``below``, ``tared`` (near
        what was to be added, as after a tare nobody mentioned), ``stick`` (off by as much as a
        stick).
    :source: design rule 6; slips common practice, no source; UCUM [oz_av] for the ounce.
    """
    entry = parse_entry(typed)
    if entry.problem:
        return ReadingCheck(problem=entry.problem)
    # Slips first: they explain a wrong count of decimals better than the count itself.
    slip = None if confirmed else _slip(entry, scale, expected_g, net_g)
    if slip is not None:
        return slip
    if entry.decimals != scale.decimals:
        return ReadingCheck(problem="decimals", limit=scale.readability)
    if entry.number > scale.capacity_g:
        return ReadingCheck(problem="capacity", limit=fixed(scale.capacity_g, scale.decimals))
    steps = entry.number / scale.readability_g
    if abs(steps - floor(steps + 0.5)) > STEP_GUARD * max(1.0, steps):
        return ReadingCheck(problem="step", limit=scale.readability)
    if not again and before_g is not None and entry.number < before_g - scale.readability_g / 2:
        # Whoever really pressed tare says so; a figure that is only confirmed makes no sense.
        tared = net_g is not None and net_g > 0 and _near(entry.number, net_g)
        limit = fixed(before_g, scale.decimals)
        return ReadingCheck(problem="tared" if tared else "below", ask=tared, limit=limit)
    low_g = inf if accept_low_g is None else accept_low_g
    high_g = -inf if accept_high_g is None else accept_high_g
    is_in = low_g <= entry.number <= high_g
    if not (again or confirmed or is_in) and _like_net(entry.number, scale, before_g, net_g):
        return ReadingCheck(problem="tared", ask=True, limit=fixed(before_g or 0.0, scale.decimals))
    if not confirmed and not is_in and _off_by_a_stick(entry.number, expected_g):
        proposal = fixed(expected_g or 0.0, scale.decimals)
        return ReadingCheck(problem="stick", ask=True, proposal=proposal)
    return ReadingCheck(value=entry.value)


def check_gross(
    typed: str,
    scale: ScaleCard,
    *,
    least_g: float,
    expected_g: float | None = None,
    confirmed: bool = False,
) -> ReadingCheck:
    """Judge what a restarted scale shows with the cup back on it.

    :param least_g: cup and what was certainly in it, grams.
    :param expected_g: what it must show where nothing was being poured, grams, else None.
    :param confirmed: true once the person has answered the question.
    :return: as ``check_reading``; besides, ``zero_gross`` (switched on with the cup on it),
        ``light`` (less than was in it), ``changed`` (not what it must show).
    :source: design rules 6 and 8; common practice, no source.
    """
    check = check_reading(typed, scale, expected_g=expected_g, again=True, confirmed=confirmed)
    if check.problem not in ("", "stick"):
        return check
    number, step_g = parse_entry(typed).number, scale.readability_g
    same_g = SAME_LOAD_STEPS * step_g + LIMIT_GUARD
    if number <= step_g / 2:
        return ReadingCheck(problem="zero_gross")
    if number < least_g - same_g:
        return ReadingCheck(problem="light", limit=fixed(least_g, scale.decimals))
    if check.problem or confirmed or expected_g is None or abs(number - expected_g) <= same_g:
        return check
    return ReadingCheck(problem="changed", ask=True, proposal=fixed(expected_g, scale.decimals))


def _slip(
    entry: Entry, scale: ScaleCard, expected_g: float | None, net_g: float | None
) -> ReadingCheck | None:
    if expected_g is None or expected_g <= 0 or _near(entry.number, expected_g):
        return None
    # A figure this scale cannot show is refused; one it can show is only asked about.
    ask = entry.decimals == scale.decimals
    slips = [("tenfold", 0.1, expected_g), ("tenfold", 10.0, expected_g)]
    slips += [("ounces", GRAMS_PER_OUNCE, expected_g)]
    # A person who pressed tare reads what was added alone.
    if net_g is not None and net_g > 0 and not _near(entry.number, net_g):
        slips += [("ounces", GRAMS_PER_OUNCE, net_g)]
    for problem, factor, wanted_g in slips:
        if _near(entry.number * factor, wanted_g):
            proposal = fixed(entry.number * factor, scale.decimals)
            return ReadingCheck(problem=problem, ask=ask, proposal=proposal)
    return None


def _like_net(number: float, scale: ScaleCard, before_g: float | None, net_g: float | None) -> bool:
    """Whether a reading above the last one looks like what was added alone, after a tare unsaid."""
    same_g = SAME_LOAD_STEPS * scale.readability_g
    if before_g is None or net_g is None or net_g <= 0 or before_g <= 2 * same_g:
        return False
    # Nearer to what was added than to the stop, which is the last reading further up.
    return abs(number - net_g) <= before_g / 4 + same_g


def _off_by_a_stick(number: float, expected_g: float | None) -> bool:
    if expected_g is None:
        return False
    off_g = abs(number - expected_g)
    return STICK_LIGHTEST_G - STEP_GUARD <= off_g <= STICK_HEAVIEST_G + STEP_GUARD


def _near(value_g: float, expected_g: float) -> bool:
    return abs(value_g - expected_g) <= SLIP_SHARE * expected_g
