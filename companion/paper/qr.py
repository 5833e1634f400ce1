"""QR patterns of codes: what they hold and which squares are black.

Error correction Q, alphanumeric mode, version 2 or more: version 1 has no alignment pattern, and
some decoders fail on it when the label is tilted. The margin is four modules all round.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

from qrcode import QRCode, constants, util

from ..errors import OutOfRange
from ..trade.codes import is_label

MARGIN_MODULES = 4
SMALLEST_VERSION = 2
#: Longest name with port. A longer one makes modules smaller than 0.6 mm.
LONGEST_HOST = 50

_BASE = re.compile(r"https://([a-z0-9-]+(?:\.[a-z0-9-]+)*)(:[0-9]{1,5})?/?\Z", re.IGNORECASE)
# A last part that is all digits makes an address of numbers, however many parts there are.
_NUMERIC = re.compile(r"(?:.*\.)?(?:[0-9]+|0x[0-9a-f]*)\Z", re.IGNORECASE)
_ALLOWED_BASE = (
    f"https://NAME or https://NAME:PORT, at most {LONGEST_HOST} characters after https://, "
    "a name and never an IP address"
)


class Kind(Enum):
    """What a code stands on; the value is the path of its address."""

    CUP = "C"
    CONTAINER = "L"
    PART = "P"


@dataclass(frozen=True, slots=True)
class Block:
    """A black rectangle of a pattern, in modules from its upper left corner, margin included."""

    column: int
    row: int
    columns: int
    rows: int


@dataclass(frozen=True, slots=True)
class Pattern:
    """A QR pattern: modules along one side with the margin, and its black rectangles."""

    modules: int
    blocks: tuple[Block, ...]

    @property
    def inner_modules(self) -> int:
        """Modules along one side without the margin."""
        return self.modules - 2 * MARGIN_MODULES


def content(code: str, kind: Kind, base: str = "") -> str:
    """What the pattern of a code holds.

    :param base: ``https://NAME:PORT`` of this shop; empty while no network name is fixed.
    :return: the bare code, or its address in capitals.
    :raises OutOfRange: this is no code, or the base is no address by name.
    """
    if not is_label(code):
        raise OutOfRange("code", code, "a code of six characters with a true check character")
    if not base:
        return code
    found = _BASE.match(base)
    host = found[1] + (found[2] or "") if found else ""
    if not found or len(host) > LONGEST_HOST or _NUMERIC.match(found[1]):
        raise OutOfRange("address", base, _ALLOWED_BASE)
    return f"HTTPS://{host}/{kind.value}/{code}".upper()


@lru_cache(maxsize=1024)
def pattern(text: str) -> Pattern:
    """The pattern of a content.

    :param text: capital letters, digits and the few signs of the alphanumeric mode.
    """
    made = QRCode(
        version=SMALLEST_VERSION,
        error_correction=constants.ERROR_CORRECT_Q,
        border=MARGIN_MODULES,
    )
    made.add_data(util.QRData(text, mode=util.MODE_ALPHA_NUM), optimize=0)
    made.make(fit=True)
    matrix = made.get_matrix()
    return Pattern(len(matrix), merged(matrix))


def merged(matrix: Sequence[Sequence[bool]]) -> tuple[Block, ...]:
    """Black modules as few rectangles: runs along a row, grown downward while the row repeats."""
    growing: dict[tuple[int, int], Block] = {}
    done: list[Block] = []
    for number, line in enumerate(matrix):
        found = _runs(line)
        done += [block for place, block in growing.items() if place not in found]
        growing = {place: _grown(growing.get(place), place, number) for place in found}
    return tuple(sorted([*done, *growing.values()], key=lambda one: (one.row, one.column)))


def _grown(block: Block | None, place: tuple[int, int], row: int) -> Block:
    column, columns = place
    if block is None:
        return Block(column, row, columns, 1)
    return Block(column, block.row, columns, block.rows + 1)


def _runs(line: Sequence[bool]) -> list[tuple[int, int]]:
    """Black runs of a row: first column and length."""
    runs, start = [], None
    for column, black in enumerate([*line, False]):
        if black and start is None:
            start = column
        elif not black and start is not None:
            runs.append((start, column - start))
            start = None
    return runs
