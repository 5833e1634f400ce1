"""Repeatability of a scale: the scatter of one load put on it again and again."""

from collections.abc import Sequence
from math import sqrt

from .errors import OutOfRange

#: Depositions that say something about the scatter; calibration guide cg-18 5.1 (secondary text).
FEWEST_READINGS = 5


def repeatability_g(readings_g: Sequence[float]) -> float:
    """Standard deviation of repeated readings of one load, grams, unrounded.

    :param readings_g: five readings or more, grams; the load is taken off before each.
    :raises OutOfRange: there are fewer readings.
    :source: s = sqrt(sum (x - mean)^2 / (n - 1)), GUM 4.2.2 (from memory); cases in
        tests/cases/repeatability.json, worked by hand.
    """
    if len(readings_g) < FEWEST_READINGS:
        raise OutOfRange("readings_g", len(readings_g), f"{FEWEST_READINGS} readings or more")
    mean_g = sum(readings_g) / len(readings_g)
    squares_g2 = sum((reading_g - mean_g) ** 2 for reading_g in readings_g)
    return sqrt(squares_g2 / (len(readings_g) - 1))
