"""The cup in section, drawn to scale: where each layer of a tapered cup begins and ends.

The drawing stands in a box of 150 by 204 units. A gram counts as a share of the mix that fills
the cup; the height it takes follows from the taper, so a narrow bottom fills faster than the top.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cbrt

from .errors import require_positive
from .numbers import fixed
from .weighing import Pour

_TOP, _BOTTOM, _MIDDLE = 14.0, 190.0, 75.0
_TOP_HALF, _BOTTOM_HALF = 62.0, 44.0
# A cup is drawn full at this share of its height: nobody fills one to the rim.
_FULL_SHARE = 0.92
# More than the cup holds is still drawn, up to the rim.
_MOST = 1.06


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer from the bottom up: its part, its mass in grams and its shape in the drawing.

    ``points`` are the corners of a polygon; ``middle`` and ``height`` say where a letter stands
    and how much room it has, in units of the drawing.
    """

    component: str
    net_g: float
    points: str
    middle: float
    height: float


def layers(pours: Sequence[Pour], capacity_g: float) -> tuple[Layer, ...]:
    """Layers of a cup in the order they were poured; pours of one part in a row are one layer.

    :param pours: additions of the cup, grams.
    :param capacity_g: mix that fills the cup, grams, > 0.
    :return: one layer per part poured in a row; none for an empty cup.
    :raises OutOfRange: capacity_g is not above zero.
    :source: volume of a truncated cone; the bench draws the same cup.
    """
    require_positive("capacity_g", capacity_g)
    drawn = []
    below_g = 0.0
    for component, net_g in _merged(pours):
        low = height_share(below_g / capacity_g)
        below_g += net_g
        drawn.append(_layer(component, net_g, low, height_share(below_g / capacity_g)))
    return tuple(drawn)


def height_share(share: float) -> float:
    """Share of a cup's height that a share of its full mix takes.

    :param share: part of the full mix, 1, 0 and more.
    :return: part of the height, 0 to 1.
    :source: volume of a truncated cone solved for its height.
    """
    widening = _TOP_HALF / _BOTTOM_HALF - 1
    full = (1 + widening * _FULL_SHARE) ** 3 - 1
    wanted = min(max(share, 0.0), _MOST) * full + 1
    return min((cbrt(wanted) - 1) / widening, 1.0)


def _merged(pours: Sequence[Pour]) -> list[tuple[str, float]]:
    merged: list[tuple[str, float]] = []
    for pour in pours:
        if merged and merged[-1][0] == pour.component:
            merged[-1] = (pour.component, merged[-1][1] + pour.net_g)
        elif pour.net_g > 0:
            merged.append((pour.component, pour.net_g))
    return merged


def _layer(component: str, net_g: float, low: float, high: float) -> Layer:
    low_y, low_half = _edge(low)
    high_y, high_half = _edge(high)
    corners = (
        (_MIDDLE - high_half, high_y),
        (_MIDDLE + high_half, high_y),
        (_MIDDLE + low_half, low_y),
        (_MIDDLE - low_half, low_y),
    )
    points = " ".join(f"{fixed(x, 1)},{fixed(y, 1)}" for x, y in corners)
    return Layer(component, net_g, points, (low_y + high_y) / 2, low_y - high_y)


def _edge(share: float) -> tuple[float, float]:
    """Height in the drawing and half width of the cup at a share of its height."""
    return _BOTTOM - share * (_BOTTOM - _TOP), _BOTTOM_HALF + share * (_TOP_HALF - _BOTTOM_HALF)
