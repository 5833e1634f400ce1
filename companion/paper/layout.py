"""Where everything on a label lies, in millimetres from the label's upper left corner.

The page and the PDF draw the same marks. Text stands in rows that share the height of the label;
a row that is too wide is set smaller and at last cut. Nothing is printed nearer to the edge of a
label than the sheet's printer reaches. What must be read at half a metre (code,
hardener, target, ratio) gets the larger rows: capitals of 2 mm and more.
"""

from dataclasses import dataclass

from . import qr, typeface
from .labels import BlankLabel, ContainerLabel, CupLabel, Label, PartLabel
from .marks import SAMPLE, Mark, Qr, Rule, Text
from .sheet import Edges, Sheet, Smallest

#: Side of a QR pattern without its margin: scanned from 20 to 25 cm.
LEAST_QR_MM, MOST_QR_MM = 20.0, 25.0
_EDGE_MM = 1.0
_TEXT_EDGE_MM = 1.6
#: Width the text wants before the pattern grows, and before a second pattern is printed.
_WANTED_TEXT_MM = 40.0
_TEXT_BETWEEN_MM = 36.0
#: Least width of text, by what the label is for.
_LEAST_TEXT_MM = {CupLabel: 30.0, ContainerLabel: 30.0, PartLabel: 30.0, BlankLabel: 18.0}
#: Least height of the rows: lines to write on of 3.5 mm and capitals of 2 mm.
_LEAST_ROWS_MM = {CupLabel: 25.0, ContainerLabel: 16.0, PartLabel: 18.0, BlankLabel: 8.0}
#: Rows grow on a tall label, up to this factor.
_MOST_GROWTH = 1.6
#: Height of capitals as a share of their row.
_CAP_OF_ROW = 0.68
_LEAST_PT = 7.5
#: Share of a row its second text is sure of: the first is cut before a target or a step is.
_SECOND_SHARE = 0.6
_BLANK_CODE_CAP_MM = 8.0
_SMALLEST_WORD_PT, _WORD_PT, _LARGEST_WORD_PT = 6.0, 7.0, 9.0
#: Line that takes a mass or a time written by hand.
_LEAST_LINE_MM = 9.0
_WORD_PT_PER_MM = 1.5
_LINE_DROP_MM = 0.5
_GAP_MM = 1.4


@dataclass(frozen=True, slots=True)
class _Column:
    """Room for text."""

    left_mm: float
    right_mm: float
    top_mm: float
    height_mm: float

    @property
    def width_mm(self) -> float:
        return self.right_mm - self.left_mm


@dataclass(frozen=True, slots=True)
class _Row:
    """One row: texts pushed apart, or words with lines behind them; heights before growing."""

    height_mm: float
    texts: tuple[str, ...]
    bold: bool = False
    ruled: bool = False


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where patterns and text lie: side of a pattern with margin, distances from the edges."""

    side_mm: float
    pattern_edge_mm: float
    text_edge_mm: float
    row_edge_mm: float
    twice: bool


def smallest(kind: type[Label], sheet: Sheet, base: str = "") -> Smallest:
    """Smallest label of this sheet this content can be printed on."""
    growth = _growth(qr.content(SAMPLE, qr.Kind.CUP, base))
    side_mm = LEAST_QR_MM * growth
    beside_mm = _pattern_edge_mm(sheet.edges.x_mm, growth)
    width_mm = beside_mm + side_mm + _LEAST_TEXT_MM[kind] + max(_TEXT_EDGE_MM, sheet.edges.x_mm)
    height_mm = side_mm + 2 * _pattern_edge_mm(sheet.edges.y_mm, growth)
    return Smallest(width_mm, max(height_mm, _LEAST_ROWS_MM[kind] + 2 * sheet.edges.y_mm))


def lay_out(label: Label, sheet: Sheet, base: str = "") -> tuple[Mark, ...]:
    """Every mark of one label."""
    width_mm, height_mm = sheet.label_width_mm, sheet.label_height_mm
    text = qr.content(label.code, label.kind, base) if label.code else ""
    growth = _growth(text or qr.content(SAMPLE, label.kind, base))
    frame = _frame(width_mm, height_mm, growth, sheet.edges)
    top_mm = (height_mm - frame.side_mm) / 2
    far_mm = width_mm - frame.pattern_edge_mm - frame.side_mm
    patterns = [Qr(frame.pattern_edge_mm, top_mm, frame.side_mm, text)]
    patterns += [Qr(far_mm, top_mm, frame.side_mm, text)] if frame.twice else []
    column = _Column(
        left_mm=frame.pattern_edge_mm + frame.side_mm,
        right_mm=far_mm if frame.twice else width_mm - frame.text_edge_mm,
        top_mm=frame.row_edge_mm,
        height_mm=height_mm - 2 * frame.row_edge_mm,
    )
    return (*patterns, *_written(label, column))


def _frame(width_mm: float, height_mm: float, growth: float, edges: Edges) -> _Frame:
    """Two patterns where the text between them has room, each as large as may be."""
    beside_mm = _pattern_edge_mm(edges.x_mm, growth)
    text_edge_mm = max(_TEXT_EDGE_MM, edges.x_mm)
    room_for_two_mm = (width_mm - _TEXT_BETWEEN_MM) / 2 - beside_mm
    twice = room_for_two_mm >= LEAST_QR_MM * growth
    wide_mm = room_for_two_mm if twice else width_mm - beside_mm - text_edge_mm - _WANTED_TEXT_MM
    room_mm = min(wide_mm, height_mm - 2 * _pattern_edge_mm(edges.y_mm, growth))
    net_mm = max(LEAST_QR_MM, min(MOST_QR_MM, room_mm / growth))
    return _Frame(net_mm * growth, beside_mm, text_edge_mm, max(_EDGE_MM, edges.y_mm), twice)


def _pattern_edge_mm(unprinted_mm: float, growth: float) -> float:
    """The margin of a pattern is white: it may lie where a printer does not reach."""
    margin_mm = LEAST_QR_MM * (growth - 1) / 2
    return max(_EDGE_MM, unprinted_mm - margin_mm)


def _growth(content: str) -> float:
    """Side with margin by side without."""
    found = qr.pattern(content)
    return found.modules / found.inner_modules


def _written(label: Label, column: _Column) -> list[Mark]:
    if isinstance(label, BlankLabel):
        return [_blank_code(label, column)]
    rows = _rows(label)
    growth = min(_MOST_GROWTH, column.height_mm / sum(row.height_mm for row in rows))
    used_mm = growth * sum(row.height_mm for row in rows)
    top_mm = column.top_mm + (column.height_mm - used_mm) / 2
    marks: list[Mark] = []
    for row in rows:
        height_mm = row.height_mm * growth
        marks += (_ruled if row.ruled else _apart)(row, column, top_mm, height_mm)
        top_mm += height_mm
    return marks


def _blank_code(label: BlankLabel, column: _Column) -> Text:
    wanted_pt = _BLANK_CODE_CAP_MM / typeface.CAP_SHARE / typeface.MM_PER_PT
    code = label.code or "·" * len(SAMPLE)
    size_pt = typeface.fitting_size_pt(code, wanted_pt, _LEAST_PT, column.width_mm, bold=True)
    cap_mm = size_pt * typeface.MM_PER_PT * typeface.CAP_SHARE
    baseline_mm = column.top_mm + (column.height_mm + cap_mm) / 2
    width_mm = typeface.width_mm(code, size_pt, bold=True)
    return Text(column.left_mm, baseline_mm, size_pt, True, code, width_mm)


def _rows(label: CupLabel | ContainerLabel | PartLabel) -> list[_Row]:
    if isinstance(label, CupLabel):
        return _cup_rows(label)
    return _container_rows(label) if isinstance(label, ContainerLabel) else _part_rows(label)


def _cup_rows(label: CupLabel) -> list[_Row]:
    cup, part_a, part_b, stop, initials, use_by = label.blanks
    rows = [
        _Row(6.8, (label.code,), bold=True),
        _Row(4.6, (label.hardener, label.target), bold=True),
        _Row(3.6, (label.paste,)),
        _Row(4.2, (label.ratio,)),
        _Row(3.6, (label.part, label.step)),
        _Row(4.7, (cup, part_a), ruled=True),
        # The shortest word beside the longest: every line keeps room for a figure or a time.
        _Row(4.7, (stop, initials), ruled=True),
        _Row(4.7, (part_b, use_by), ruled=True),
    ]
    return [row for row in rows if any(row.texts)]


def _container_rows(label: ContainerLabel) -> list[_Row]:
    rows = [
        _Row(6.8, (label.code,), bold=True),
        _Row(5.0, (label.material,), bold=True),
        _Row(4.6, (label.lot,)),
        _Row(4.6, (label.expires,)),
        _Row(4.6, (label.opened,), ruled=not label.opened_known),
    ]
    return [row for row in rows if any(row.texts)]


def _part_rows(label: PartLabel) -> list[_Row]:
    made_on, initials = label.blanks
    rows = [
        _Row(6.8, (label.code,), bold=True),
        _Row(5.0, (label.serial,), bold=True),
        _Row(4.4, (label.part,)),
        _Row(4.0, (label.job,)),
        # A date takes more room than a figure: a line of its own.
        _Row(4.7, (made_on,), ruled=True),
        _Row(4.7, (initials,), ruled=True),
    ]
    return [row for row in rows if any(row.texts)]


def _apart(row: _Row, column: _Column, top_mm: float, height_mm: float) -> list[Mark]:
    """Texts of a row: the first at the left end, a second at the right one."""
    wanted_pt = height_mm * _CAP_OF_ROW / typeface.CAP_SHARE / typeface.MM_PER_PT
    texts = [text for text in row.texts if text]
    room_mm = column.width_mm - _GAP_MM * (len(texts) - 1)
    size_pt = _common_size_pt(texts, wanted_pt, room_mm, _LEAST_PT, bold=row.bold)
    baseline_mm = top_mm + height_mm * (1 + _CAP_OF_ROW) / 2
    marks: list[Mark] = []
    for number in reversed(range(len(texts))):
        first_mm = typeface.width_mm(texts[0], size_pt, bold=row.bold)
        share_mm = max(room_mm * _SECOND_SHARE, room_mm - first_mm) if number else room_mm
        kept = typeface.cut(texts[number], size_pt, share_mm, bold=row.bold)
        width_mm = typeface.width_mm(kept, size_pt, bold=row.bold)
        x_mm = column.right_mm - width_mm if number else column.left_mm
        marks.append(Text(x_mm, baseline_mm, size_pt, row.bold, kept, width_mm))
        room_mm -= width_mm
    return marks[::-1]


def _common_size_pt(
    texts: list[str], wanted_pt: float, room_mm: float, least_pt: float, *, bold: bool = False
) -> float:
    set_mm = sum(typeface.width_mm(text, wanted_pt, bold=bold) for text in texts)
    return wanted_pt if set_mm <= room_mm else max(least_pt, wanted_pt * room_mm / set_mm)


def _ruled(row: _Row, column: _Column, top_mm: float, height_mm: float) -> list[Mark]:
    """Words with lines of one length behind them."""
    size_pt = min(_LARGEST_WORD_PT, max(_WORD_PT, height_mm * _WORD_PT_PER_MM))
    line_mm = top_mm + height_mm * (1 + _CAP_OF_ROW) / 2
    gaps_mm = _GAP_MM * (1.5 * len(row.texts) - 1)
    words_room_mm = column.width_mm - gaps_mm - _LEAST_LINE_MM * len(row.texts)
    size_pt = _common_size_pt(list(row.texts), size_pt, words_room_mm, _SMALLEST_WORD_PT)
    words_mm = [typeface.width_mm(word, size_pt, bold=False) for word in row.texts]
    length_mm = max(2.0, (column.width_mm - sum(words_mm) - gaps_mm) / len(row.texts))
    marks: list[Mark] = []
    x_mm = column.left_mm
    for word, wide_mm in zip(row.texts, words_mm, strict=True):
        marks.append(Text(x_mm, line_mm - _LINE_DROP_MM, size_pt, False, word, wide_mm))
        x_mm += wide_mm + _GAP_MM / 2
        marks.append(Rule(x_mm, line_mm, length_mm))
        x_mm += length_mm + _GAP_MM
    return marks
