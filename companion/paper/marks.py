"""What is drawn on a label: lines of text, lines to write on, and patterns.

Places are millimetres from the upper left corner of the label.
"""

from dataclasses import dataclass

from . import qr, typeface

#: A valid code for measuring: every code makes a pattern of the same size.
SAMPLE = "7K2QMS"


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text from its left end, on its baseline."""

    x_mm: float
    baseline_mm: float
    size_pt: float
    bold: bool
    text: str
    width_mm: float

    @property
    def size_mm(self) -> float:
        """Type size."""
        return self.size_pt * typeface.MM_PER_PT


@dataclass(frozen=True, slots=True)
class Rule:
    """A line to write on."""

    x_mm: float
    y_mm: float
    length_mm: float


@dataclass(frozen=True, slots=True)
class Qr:
    """A pattern with its margin; empty content for a code that is not given yet."""

    x_mm: float
    y_mm: float
    side_mm: float
    content: str

    @property
    def modules(self) -> int:
        """Modules along one side, margin included."""
        return qr.pattern(self.content or SAMPLE).modules

    @property
    def module_mm(self) -> float:
        """Side of one module."""
        return self.side_mm / self.modules

    @property
    def inner_mm(self) -> tuple[float, float, float]:
        """Left, top and side of the pattern without its margin."""
        margin_mm = qr.MARGIN_MODULES * self.module_mm
        return self.x_mm + margin_mm, self.y_mm + margin_mm, self.side_mm - 2 * margin_mm

    @property
    def rectangles(self) -> tuple[tuple[float, float, float, float], ...]:
        """Black rectangles: left, top, width, height; none while there is no code."""
        if not self.content:
            return ()
        side_mm = self.module_mm
        return tuple(
            (
                self.x_mm + block.column * side_mm,
                self.y_mm + block.row * side_mm,
                block.columns * side_mm,
                block.rows * side_mm,
            )
            for block in qr.pattern(self.content).blocks
        )


Mark = Text | Rule | Qr
