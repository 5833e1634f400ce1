"""Numbers as people type them and displays show them.

A typed figure keeps its text: its decimals are its resolution. Comma and point both mark
decimals; a second mark of any kind is refused, so nothing is ever guessed between decimal and
thousands. Arabic digits are mapped when typed; on the wire only ASCII digits and a point pass.
"""

import re
from dataclasses import dataclass
from math import ceil, floor

from .constants import MAX_INTEGER_DIGITS, STEP_GUARD
from .errors import OutOfRange

#: Decimals the wire takes; no display shows more.
_MAX_DECIMALS = 6
_WIRE = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,6})?\Z")
_ENTRY = re.compile(r"[0-9]+(\.[0-9]+)?\Z")
_ARABIC = {
    **{chr(0x0660 + digit): str(digit) for digit in range(10)},
    **{chr(0x06F0 + digit): str(digit) for digit in range(10)},
    "\u066b": ".",
}
_SEPARATORS = ".,\u066b\u066c' \u00a0\u202f"
_TO_ASCII = str.maketrans({**_ARABIC, ",": "."})


@dataclass(frozen=True, slots=True)
class Entry:
    """A typed figure: its text with a point and ASCII digits, or the problem with it."""

    value: str = ""
    problem: str = ""

    @property
    def number(self) -> float:
        """The figure as a number."""
        return float(self.value)

    @property
    def decimals(self) -> int:
        """Digits after the point."""
        return len(self.value.partition(".")[2])


def parse_entry(typed: str) -> Entry:
    """Read a figure a person typed in any of our locales.

    :param typed: what was entered; spaces around it do not count.
    :return: the figure, or a problem: ``empty``, ``separators`` (more than one), ``negative``,
        ``long`` or ``character``.
    :source: common practice, no source; table in tests/cases/numbers.json.
    """
    text = typed.strip(" ")
    if not text:
        return Entry(problem="empty")
    if text[0] in "-\u2212":
        return Entry(problem="negative")
    if sum(text.count(mark) for mark in _SEPARATORS) > 1:
        return Entry(problem="separators")
    plain = text.translate(_TO_ASCII)
    if not _ENTRY.match(plain):
        return Entry(problem="character")
    whole, _, decimals = plain.partition(".")
    if len(whole) > MAX_INTEGER_DIGITS or len(decimals) > _MAX_DECIMALS:
        return Entry(problem="long")
    return Entry(value=plain)


def is_wire_number(text: str) -> bool:
    """Whether a text is a number the wire accepts: ASCII digits, one point, nothing else."""
    return _WIRE.match(text) is not None


def to_step(value_g: float, step_g: float) -> float:
    """Nearest figure a display of this step can show, grams; halves go up."""
    return floor(value_g / step_g + 0.5) * step_g


def step_inside(low_g: float, high_g: float, step_g: float) -> tuple[float, float] | None:
    """Lowest and highest display inside a window, or None where no step falls into it.

    :param low_g: lower limit, grams.
    :param high_g: upper limit, grams.
    :param step_g: display step, grams, > 0.
    :return: both limits rounded inwards to whole steps, grams.
    :source: limits round to the safe side (design rule 12).
    """
    low_steps = ceil(low_g / step_g - STEP_GUARD)
    high_steps = floor(high_g / step_g + STEP_GUARD)
    return None if low_steps > high_steps else (low_steps * step_g, high_steps * step_g)


def at_least_g(mass_g: float) -> str:
    """A mass that must not be fallen short of, in tenths of a gram, rounded up.

    :source: limits round to the safe side (design rule 12).
    """
    return fixed(up_to_tenth(mass_g), 1)


def at_most_g(mass_g: float) -> str:
    """A mass that must not be gone beyond, in tenths of a gram, rounded down.

    :source: limits round to the safe side (design rule 12).
    """
    return fixed(floor(mass_g * 10 + STEP_GUARD) / 10, 1)


def fixed(value: float, decimals: int) -> str:
    """Write a figure with so many decimals and a point; never a negative zero."""
    if decimals < 0:
        raise OutOfRange("decimals", decimals, "0 or more")
    text = f"{value:.{decimals}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def up_to_tenth(mass_g: float) -> float:
    """A smallest mass, grams, up to the next 0.1 g (design rule 12)."""
    return ceil(mass_g * 10 - STEP_GUARD) / 10
