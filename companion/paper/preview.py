"""The first page as drawings for a screen: the marks of the PDF, sorted by how they are drawn."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from .labels import Label
from .marks import Mark, Qr, Rule, Text
from .pdf import page_count, placed
from .sheet import Place, Sheet, places
from .typeface import missing


@dataclass(frozen=True, slots=True)
class DrawnLabel:
    """One label with its place; the black of its patterns is one path, as in the PDF."""

    place: Place
    texts: tuple[Text, ...]
    rules: tuple[Rule, ...]
    black: str
    #: left, top and side of patterns whose code is not given yet.
    open_patterns: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """The first page: every place of the sheet, and the labels on it."""

    sheet: Sheet
    places: tuple[Place, ...]
    labels: tuple[DrawnLabel, ...]
    pages: int


def preview(labels: Sequence[Label], sheet: Sheet, base: str = "") -> Preview:
    """The first page of what ``render`` makes.

    :raises OutOfRange: the sheet cannot be printed with these labels.
    """
    first = labels[: sheet.places - sheet.start + 1]
    whole = replace(sheet, start=1)
    return Preview(
        sheet=sheet,
        places=tuple(places(whole, sheet.places)),
        labels=tuple(_drawn(one.place, one.marks) for one in placed(first, sheet, base)),
        pages=page_count(sheet, len(labels)),
    )


def unprinted(labels: Sequence[Label], sheet: Sheet, base: str = "") -> tuple[str, ...]:
    """Letters on these labels that no font here has, in order: they print as empty boxes.

    :raises OutOfRange: the sheet cannot be printed with these labels.
    """
    texts = {
        (mark.text, mark.bold)
        for one in placed(labels, replace(sheet, start=1), base)
        for mark in one.marks
        if isinstance(mark, Text)
    }
    return tuple(sorted({letter for text, bold in texts for letter in missing(text, bold=bold)}))


def _drawn(place: Place, marks: Sequence[Mark]) -> DrawnLabel:
    patterns = [mark for mark in marks if isinstance(mark, Qr)]
    return DrawnLabel(
        place=place,
        texts=tuple(mark for mark in marks if isinstance(mark, Text)),
        rules=tuple(mark for mark in marks if isinstance(mark, Rule)),
        black="".join(_path(mark) for mark in patterns),
        open_patterns=tuple(mark.inner_mm for mark in patterns if not mark.content),
    )


def _path(pattern: Qr) -> str:
    return "".join(
        f"M{x:.3f} {y:.3f}h{width:.3f}v{height:.3f}h-{width:.3f}z"
        for x, y, width, height in pattern.rectangles
    )
