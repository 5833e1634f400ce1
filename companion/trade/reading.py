"""Checks on a reading before it is taken.

The figure on the display must be one this scale can show, not below what stood there before, and
not a slip of the decimal or of the unit. Slips are named and asked about, never put right
silently.
"""

from dataclasses import dataclass
from math import floor

from .cards import ScaleCard
from .constants import GRAMS_PER_OUNCE, SLIP_SHARE, STEP_GUARD
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
    again: bool = False,
    confirmed: bool = False,
) -> ReadingCheck:
    """Judge a typed display reading.

    :param typed: what the person entered.
    :param scale: the scale beside the phone.
    :param before_g: display reading before this pour, grams, None if there is none.
    :param expected_g: display the pour was asked to stop at, grams, None if not known.
    :param again: true for a reading again, which may be lower than the one it replaces.
    :param confirmed: true once the person has answered the question about a slip.
    :return: the value to record, or the problem: those of ``parse_entry``, ``ounces``,
        ``tenfold``, ``decimals``, ``capacity``, ``step``, ``below``.
    :source: design rule 6; slips common practice, no source; UCUM [oz_av] for the ounce.
    """
    entry = parse_entry(typed)
    if entry.problem:
        return ReadingCheck(problem=entry.problem)
    # Slips first: they explain a wrong count of decimals better than the count itself.
    slip = None if confirmed else _slip(entry, scale, expected_g)
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
        return ReadingCheck(problem="below", limit=fixed(before_g, scale.decimals))
    return ReadingCheck(value=entry.value)


def _slip(entry: Entry, scale: ScaleCard, expected_g: float | None) -> ReadingCheck | None:
    if expected_g is None or expected_g <= 0 or _near(entry.number, expected_g):
        return None
    # A figure this scale cannot show is refused; one it can show is only asked about.
    ask = entry.decimals == scale.decimals
    for problem, factor in (("tenfold", 0.1), ("tenfold", 10.0), ("ounces", GRAMS_PER_OUNCE)):
        if _near(entry.number * factor, expected_g):
            proposal = fixed(entry.number * factor, scale.decimals)
            return ReadingCheck(problem=problem, ask=ask, proposal=proposal)
    return None


def _near(value_g: float, expected_g: float) -> bool:
    return abs(value_g - expected_g) <= SLIP_SHARE * expected_g
