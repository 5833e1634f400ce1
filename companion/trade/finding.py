"""Finding the cup a smeared label stands on: by the letters that are left, and by weighing it.

Candidates are proposed and never chosen: two cups may differ by less than a scale shows.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from .constants import STEP_GUARD

#: stands for a letter that cannot be read.
GONE = "?"
# Letters that are taken for each other on a smeared label; common practice, no source.
_LOOK_ALIKES = ({"5", "S"}, {"2", "Z"}, {"8", "B"})
# What a cup may differ from its record by: drops, a wiped rim; common practice, no source.
_SAME_CUP_G = 1.0


@dataclass(frozen=True, slots=True)
class OpenCup:
    """A cup that has not ended: its code, and what it weighs in all; None if not on record."""

    code: str
    gross_g: float | None


@dataclass(frozen=True, slots=True)
class Candidate:
    """A cup the label may stand on.

    :ivar exact: every letter that is left is the same; else a look-alike stands in its place.
    :ivar weight: ``fits``, ``off``, or ``unknown`` where one of the two masses is not known.
    """

    code: str
    exact: bool
    weight: str


def candidates(
    cups: Sequence[OpenCup], letters: str, gross_g: float | None, step_g: float
) -> tuple[Candidate, ...]:
    """Open cups a label may stand on, those that fit best first.

    :param letters: what can be read, one character a place, ``?`` for what cannot; letters missing
        at the end cannot be read.
    :param gross_g: what the cup weighs, grams, None if it was not weighed.
    :param step_g: display step of the scale, grams.
    :return: cups whose letters fit; where no letter is left, those whose weight does not speak
        against it.
    :source: gross within 1 g, common practice, no source; tests/cases/finding.json.
    """
    left = letters.upper()
    found = []
    for cup in cups:
        exact = _fits(left, cup.code, look_alikes=False)
        if not exact and not _fits(left, cup.code, look_alikes=True):
            continue
        weight = _weight(cup.gross_g, gross_g, step_g)
        if weight == "off" and not left.strip(GONE):
            continue
        found.append(Candidate(cup.code, exact, weight))
    ranks = {"fits": 0, "unknown": 1, "off": 2}
    return tuple(sorted(found, key=lambda one: (ranks[one.weight], not one.exact, one.code)))


def _fits(letters: str, code: str, *, look_alikes: bool) -> bool:
    if len(letters) > len(code):
        return False
    return all(
        letter in (GONE, there) or (look_alikes and {letter, there} in _LOOK_ALIKES)
        for letter, there in zip(letters, code, strict=False)
    )


def _weight(recorded_g: float | None, gross_g: float | None, step_g: float) -> str:
    if recorded_g is None or gross_g is None:
        return "unknown"
    return "fits" if abs(recorded_g - gross_g) <= _SAME_CUP_G + step_g + STEP_GUARD else "off"
