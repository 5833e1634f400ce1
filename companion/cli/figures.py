"""Figures on the command line: ASCII digits and a point, within a range that is named."""

import argparse
from collections.abc import Callable

from ..trade.numbers import is_wire_number


def figure(
    *, above: float | None = None, least: float | None = None, below: float | None = None
) -> Callable[[str], float]:
    """Make a reader for one option.

    :param above: the figure must be larger than this.
    :param least: the figure must be this or larger.
    :param below: the figure must be smaller than this.
    """
    limits = [
        f"{word} {limit:g}"
        for word, limit in (("above", above), ("at least", least), ("below", below))
        if limit is not None
    ]
    allowed = f"a number such as 146.4, {' and '.join(limits)}"

    def read(text: str) -> float:
        value = float(text) if is_wire_number(text) else None
        fits = (
            value is not None
            and (above is None or value > above)
            and (least is None or value >= least)
            and (below is None or value < below)
        )
        if value is None or not fits:
            raise argparse.ArgumentTypeError(f"{text!r}: allowed is {allowed}")
        return value

    return read


def ratio(text: str) -> float:
    """Read ``100:30``, parts A to parts B by mass, as parts B per part A."""
    part_a, colon, part_b = text.partition(":")
    if colon and is_wire_number(part_a) and is_wire_number(part_b):
        a, b = float(part_a), float(part_b)
        if a > 0 and b > 0:
            return b / a
    raise argparse.ArgumentTypeError(
        f"{text!r}: allowed is parts A:parts B by mass, both above 0, such as 100:30"
    )
