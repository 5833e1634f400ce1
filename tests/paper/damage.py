"""Printed labels, and what happens to them on a bench: stains, patches, strips, dirt.

Damage lies on the flat label; ``lens`` shows it as a camera sees it. All chance comes from a seeded
generator.
"""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from companion.paper.labels import Label
from companion.paper.marks import Qr
from companion.paper.pdf import placed, render
from companion.paper.sheet import Sheet
from tests.paper.raster import MM_PER_PIXEL, rasterise

Levels = NDArray[np.float64]
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Print:
    """One label on paper, flat: its levels at 300 dpi, and where its patterns lie."""

    levels: Levels
    #: left, top, right, bottom of each pattern without its margin, mm.
    symbols_mm: tuple[Box, ...]
    content: str


def printed(label: Label, sheet: Sheet, folder: Path, base: str = "") -> Print:
    """Print one label and cut it out of its page."""
    (one,) = placed([label], sheet, base)
    page = rasterise(render([label], sheet, base), folder)[0]
    left_mm, top_mm = one.place.x_mm, one.place.y_mm
    edges_mm = (left_mm, top_mm, left_mm + sheet.label_width_mm, top_mm + sheet.label_height_mm)
    cut = page.crop(tuple(round(edge / MM_PER_PIXEL) for edge in edges_mm))
    patterns = [mark for mark in one.marks if isinstance(mark, Qr)]
    boxes = tuple((x, y, x + side, y + side) for x, y, side in (one.inner_mm for one in patterns))
    return Print(np.asarray(cut, dtype=np.float64), boxes, patterns[0].content)


def stained(label: Print, share: float, random: np.random.Generator, symbol: int = 0) -> Print:
    """A see-through stain over a share of a pattern: paper keeps 65 % of its brightness."""
    left, top, right, _ = label.symbols_mm[symbol]
    side = (right - left) * np.sqrt(share)
    spare = (right - left) - side
    x_mm, y_mm = left + random.uniform(0, spare), top + random.uniform(0, spare)
    levels = label.levels.copy()
    levels[_pixels((x_mm, y_mm, x_mm + side, y_mm + side))] *= 0.65
    return replace(label, levels=levels)


def patched(label: Print, share: float, random: np.random.Generator, symbol: int = 0) -> Print:
    """One opaque patch, dark or light, in the corner of a pattern that has no corner mark."""
    left, top, right, bottom = label.symbols_mm[symbol]
    aspect = random.uniform(0.7, 1.4)
    wide = (right - left) * np.sqrt(share * aspect)
    high = (bottom - top) * np.sqrt(share / aspect)
    levels = label.levels.copy()
    levels[_pixels((right - wide, bottom - high, right, bottom))] = _opaque(random)
    return replace(label, levels=levels)


def struck(label: Print, share: float, random: np.random.Generator, symbol: int = 0) -> Print:
    """An opaque strip across a pattern, from edge to edge, between its corner marks."""
    left, top, right, bottom = label.symbols_mm[symbol]
    side, width = right - left, (right - left) * share
    # Corner marks are 7 modules and their margin wide, of 25 or more.
    start = left + side * 0.34 + random.uniform(0, max(0.0, side * 0.32 - width))
    levels = label.levels.copy()
    levels[_pixels((start, top, start + width, bottom))] = _opaque(random)
    return replace(label, levels=levels)


def dirty(label: Print, share: float, random: np.random.Generator) -> Print:
    """Opaque specks of 0.5 to 2 mm, anywhere, over a share of the whole label."""
    levels = label.levels.copy()
    high, wide = levels.shape
    covered = np.zeros(levels.shape, dtype=bool)
    while covered.mean() < share:
        radius = random.uniform(0.25, 1.0) / MM_PER_PIXEL
        x, y = random.uniform(0, wide), random.uniform(0, high)
        x_from, y_from = max(0, int(x - radius)), max(0, int(y - radius))
        part = (slice(y_from, int(y + radius) + 1), slice(x_from, int(x + radius) + 1))
        rows, columns = np.mgrid[part[0], part[1]][:, : high - y_from, : wide - x_from]
        speck = (columns - x) ** 2 + (rows - y) ** 2 <= radius**2
        levels[part][speck] = _opaque(random)
        covered[part] |= speck
    return replace(label, levels=levels)


def hidden(label: Print, symbol: int = 0) -> Print:
    """A whole pattern under something dark."""
    levels = label.levels.copy()
    levels[_pixels(label.symbols_mm[symbol])] = 60.0
    return replace(label, levels=levels)


def _opaque(random: np.random.Generator) -> float:
    return float(random.choice([40.0, 230.0]))


def _pixels(box_mm: Box) -> tuple[slice, slice]:
    left, top, right, bottom = (round(edge / MM_PER_PIXEL) for edge in box_mm)
    return slice(top, bottom), slice(left, right)
