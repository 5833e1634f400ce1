"""Asking for labels: typed in the office, refused field by field where nothing can be printed."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from ..trade.numbers import parse_entry
from .labels import BlankLabel, ContainerLabel, CupLabel, Label, PartLabel
from .layout import smallest
from .sheet import A4_3X8, FIELDS, FieldProblem, Sheet, check, plain, read

MOST_LABELS = 240
CUPS, BLANK, CONTAINERS, PARTS = "cups", "blank", "containers", "parts"
KINDS: Mapping[str, type[Label]] = {
    CUPS: CupLabel,
    BLANK: BlankLabel,
    CONTAINERS: ContainerLabel,
    PARTS: PartLabel,
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed or chosen, untouched."""

    what: str
    codes: tuple[str, ...]
    count: str
    #: measures of the sheet, field -> text.
    measures: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Checked:
    """Labels ready to be printed, or the problems in the order of the form."""

    problems: tuple[FieldProblem, ...]
    sheet: Sheet = A4_3X8
    count: int = 0


def check_asked(asked: Asked, known: Collection[str], base: str = "") -> Checked:
    """Check what was asked for.

    :param known: codes that can be chosen.
    :param base: address of the shop that the patterns carry; empty for bare codes.
    """
    sheet, problems = read(asked.measures)
    if not problems:
        problems = check(sheet, smallest(KINDS[asked.what], sheet, base))
    if asked.what == BLANK:
        count, wrong = _count(asked.count)
    else:
        count, wrong = len(asked.codes), _codes(asked.codes, known)
    in_order = sorted(problems, key=lambda one: FIELDS.index(one.field))
    return Checked((*wrong, *in_order), sheet, count)


def _count(typed: str) -> tuple[int, tuple[FieldProblem, ...]]:
    entry = parse_entry(typed)
    if not entry.problem and entry.number in range(1, MOST_LABELS + 1):
        return int(entry.number), ()
    return 0, (FieldProblem("count", "range", typed.strip(), "1", plain(MOST_LABELS)),)


def _codes(codes: tuple[str, ...], known: Collection[str]) -> tuple[FieldProblem, ...]:
    if not codes:
        return (FieldProblem("codes", "none", ""),)
    if len(codes) > MOST_LABELS:
        return (FieldProblem("codes", "range", plain(len(codes)), "1", plain(MOST_LABELS)),)
    strange = [code for code in codes if code not in known]
    return (FieldProblem("codes", "unknown", strange[0]),) if strange else ()
