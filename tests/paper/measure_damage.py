"""How often damaged labels are read: ``python -m tests.paper.measure_damage [SEEDS]``.

Prints a table for the documents: per condition the frames read, out of all, by label and decoder.
"""

import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PIL import Image

from companion.paper.sheet import Sheet, roll
from tests.paper.conditions import BEYOND, PROMISED, Condition
from tests.paper.damage import Print, printed
from tests.paper.raster import read_zbar, read_zxing
from tests.paper.samples import cups

SEEDS = 20
ROLL_60 = roll(60.0, 29.0)
WIDE = roll(99.0, 55.0)
BASE = "https://companion.local:8443"
#: Labels by name: sheet, and address in the pattern.
LABELS: dict[str, tuple[Sheet, str]] = {
    "code": (ROLL_60, ""),
    "address": (ROLL_60, BASE),
    "code twice": (WIDE, ""),
}


def counts(label: Print, condition: Condition, seeds: int) -> tuple[int, int]:
    """Frames of so many that zxing-cpp and zbar read."""
    by_zxing = by_zbar = 0
    for seed in range(seeds):
        frame = Image.fromarray(condition(label, np.random.default_rng(seed)))
        by_zxing += label.content in [one.text for one in read_zxing(frame)]
        by_zbar += label.content in read_zbar(frame)
    return by_zxing, by_zbar


def main(arguments: Sequence[str]) -> None:
    """Print the table."""
    seeds = int(arguments[0]) if arguments else SEEDS
    with tempfile.TemporaryDirectory() as folder:
        prints = {
            name: printed(cups(1)[0], sheet, Path(folder), base)
            for name, (sheet, base) in LABELS.items()
        }
    heads = [f"{name}: zxing-cpp | {name}: zbar" for name in prints]
    print(f"| of {seeds} frames | {' | '.join(heads)} |")
    print("|---" * (1 + 2 * len(prints)) + "|")
    for name, condition in {**PROMISED, **BEYOND}.items():
        found = [
            " | ".join(str(count) for count in counts(label, condition, seeds))
            for label in prints.values()
        ]
        print(f"| {name} | {' | '.join(found)} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
