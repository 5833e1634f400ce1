"""The typeface on paper: Latin with Polish, and Arabic, measured as it will be set.

Widths come from the same shaping library the PDF is set with, so what fits here fits there.
"""

from functools import lru_cache
from pathlib import Path

import uharfbuzz

REGULAR = Path(__file__).parent / "fonts" / "DejaVuSansCondensed.ttf"
BOLD = Path(__file__).parent / "fonts" / "DejaVuSansCondensed-Bold.ttf"
#: Height of a capital letter as a share of the type size: its H is 1493 of 2048 units high.
CAP_SHARE = 1493 / 2048
MM_PER_PT = 25.4 / 72
_ELLIPSIS = "…"
#: Glyph 0 is the empty box in every font.
_NO_GLYPH = 0


def width_mm(text: str, size_pt: float, *, bold: bool) -> float:
    """How wide a text is set, unrounded."""
    return _advance(text, bold) * size_pt * MM_PER_PT


def fitting_size_pt(
    text: str, wanted_pt: float, least_pt: float, room_mm: float, *, bold: bool
) -> float:
    """Largest type size, up to the wanted one, at which a text fits; never below the least."""
    set_mm = width_mm(text, wanted_pt, bold=bold)
    return wanted_pt if set_mm <= room_mm else max(least_pt, wanted_pt * room_mm / set_mm)


def cut(text: str, size_pt: float, room_mm: float, *, bold: bool) -> str:
    """The text, or as much of its beginning as fits, ended by an ellipsis."""
    if width_mm(text, size_pt, bold=bold) <= room_mm + 1e-9:
        return text
    for length in range(len(text) - 1, 0, -1):
        shorter = text[:length].rstrip() + _ELLIPSIS
        if width_mm(shorter, size_pt, bold=bold) <= room_mm:
            return shorter
    return _ELLIPSIS


@lru_cache(maxsize=4096)
def missing(text: str, *, bold: bool) -> tuple[str, ...]:
    """Letters of a text that the font has no picture of: they print as empty boxes."""
    font, _ = _font(bold)
    found = []
    for letter in dict.fromkeys(text):
        buffer = uharfbuzz.Buffer()
        buffer.add_str(letter)
        buffer.guess_segment_properties()
        uharfbuzz.shape(font, buffer)
        if any(glyph.codepoint == _NO_GLYPH for glyph in buffer.glyph_infos):
            found.append(letter)
    return tuple(found)


@lru_cache(maxsize=4096)
def _advance(text: str, bold: bool) -> float:
    font, units = _font(bold)
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    uharfbuzz.shape(font, buffer)
    advances: int = sum(place.x_advance for place in buffer.glyph_positions or ())
    return advances / units


@lru_cache
def _font(bold: bool) -> tuple[uharfbuzz.Font, int]:
    face = uharfbuzz.Face((BOLD if bold else REGULAR).read_bytes())
    return uharfbuzz.Font(face), face.upem
