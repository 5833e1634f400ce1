"""What a label goes through before it is scanned, by name; each condition is met with chance."""

from collections.abc import Callable
from functools import partial

import numpy as np
from numpy.typing import NDArray

from tests.paper.damage import Print, dirty, hidden, patched, stained, struck
from tests.paper.lens import View, seen

Frame = NDArray[np.uint8]
Condition = Callable[[Print, np.random.Generator], Frame]

#: A hand holds a phone 20 to 25 cm off, hardly ever straight, and never quite sharp.
NEAREST_MM, FURTHEST_MM = 200.0, 250.0
HAND_BLUR_PX = 0.7


def _view(random: np.random.Generator, **given: object) -> View:
    chance = {
        "distance_mm": random.uniform(NEAREST_MM, FURTHEST_MM),
        "turn_deg": random.uniform(-180, 180),
        "lean_deg": random.uniform(0, 360),
        "tilt_deg": random.uniform(0, 10),
        "blur_px": HAND_BLUR_PX,
        "aimed": 0,
    }
    return View(**{**chance, **given})  # type: ignore[arg-type]


def tilted(tilt_deg: float, label: Print, random: np.random.Generator) -> Frame:
    """Leaning away in any direction."""
    return seen(label, _view(random, tilt_deg=tilt_deg), random)


def blurred(blur_px: float, label: Print, random: np.random.Generator) -> Frame:
    """Out of focus."""
    return seen(label, _view(random, blur_px=blur_px), random)


def curved(curve: str, label: Print, random: np.random.Generator) -> Frame:
    """On a cup of 65 mm, its pattern turned to the phone as well as a hand does."""
    return seen(label, _view(random, curve=curve), random)


def damaged(
    damage: Callable[[Print, np.random.Generator], Print],
    label: Print,
    random: np.random.Generator,
) -> Frame:
    """Damaged, and held as a hand holds it."""
    return seen(damage(label, random), _view(random), random)


def _share(
    damage: Callable[..., Print], share: float, label: Print, random: np.random.Generator
) -> Print:
    return damage(label, share, random)


def one_hidden(label: Print, random: np.random.Generator) -> Print:
    """One of the patterns, whichever, under something dark."""
    return hidden(label, int(random.integers(len(label.symbols_mm))))


def _of(damage: Callable[..., Print], share: float) -> Condition:
    return partial(damaged, partial(_share, damage, share))


#: What the program promises to scan.
PROMISED: dict[str, Condition] = {
    "as printed": partial(tilted, 0.0),
    "tilted 45°": partial(tilted, 45.0),
    "blur of 1 px": partial(blurred, 1.0),
    "around a cup of 65 mm": partial(curved, "around"),
    "upright on a cup of 65 mm": partial(curved, "upright"),
    "stain over 40 %": _of(stained, 0.40),
    "corner patch of 10 %": _of(patched, 0.10),
}
#: What it does not promise, measured to know where the edge is.
BEYOND: dict[str, Condition] = {
    "tilted 55°": partial(tilted, 55.0),
    "tilted 60°": partial(tilted, 60.0),
    "blur of 1.5 px": partial(blurred, 1.5),
    "blur of 2 px": partial(blurred, 2.0),
    "blur of 2.5 px": partial(blurred, 2.5),
    "blur of 3 px": partial(blurred, 3.0),
    "stain over all": _of(stained, 1.0),
    "corner patch of 12 %": _of(patched, 0.12),
    "corner patch of 15 %": _of(patched, 0.15),
    "corner patch of 20 %": _of(patched, 0.20),
    "strip of 4 % across": _of(struck, 0.04),
    "strip of 8 % across": _of(struck, 0.08),
    "strip of 12 % across": _of(struck, 0.12),
    "dirt over 5 %": _of(dirty, 0.05),
    "dirt over 10 %": _of(dirty, 0.10),
    "one pattern hidden": partial(damaged, one_hidden),
}
