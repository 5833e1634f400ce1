"""Cloth off the roll: what a piece needs, and how pieces lie on it without turning the warp.

Shelves are a heuristic: the answer is shown beside the length no cutting can go below, and is never
called the shortest.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, inf, radians, sin

from .errors import OutOfRange, require_positive

_GUARD = 1e-9


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece to be cut: its length lies along the roll, its width across.

    :ivar name: what it is for.
    :ivar length_m: along the warp, > 0.
    :ivar width_m: across the roll, > 0.
    """

    name: str
    length_m: float
    width_m: float

    @property
    def area_m2(self) -> float:
        """Area of the piece."""
        return self.length_m * self.width_m


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece on the roll, by its corner nearest to the roll's end and edge."""

    piece: Piece
    along_m: float
    across_m: float


@dataclass(frozen=True, slots=True)
class Cutting:
    """Pieces on a roll.

    :ivar length_m: of roll that is used.
    :ivar at_least_m: no cutting of these pieces can use less.
    """

    placed: tuple[Placed, ...]
    length_m: float
    at_least_m: float


def with_margin(piece: Piece, margin_m: float) -> Piece:
    """The piece with a margin on every side.

    :raises OutOfRange: a size not above zero, or a margin below zero.
    :source: definition; CL-01.
    """
    _require(piece)
    if not 0 <= margin_m < inf:
        raise OutOfRange("margin_m", margin_m, "0 or more")
    return Piece(piece.name, piece.length_m + 2 * margin_m, piece.width_m + 2 * margin_m)


def on_the_bias(piece: Piece, angle_deg: float) -> Piece:
    """The piece that holds another one whose warp runs at an angle to its length.

    :param angle_deg: from the warp, -90 to 90.
    :raises OutOfRange: a size not above zero, or an angle out of range.
    :source: geometry; CL-03.
    """
    _require(piece)
    if not -90 <= angle_deg <= 90:
        raise OutOfRange("angle_deg", angle_deg, "-90 to 90")
    along, across = abs(cos(radians(angle_deg))), abs(sin(radians(angle_deg)))
    return Piece(
        piece.name,
        piece.length_m * along + piece.width_m * across,
        piece.length_m * across + piece.width_m * along,
    )


def strips(width_m: float, roll_width_m: float, overlap_m: float) -> int:
    """Strips side by side that cover a width.

    :raises OutOfRange: a size not above zero, or an overlap as wide as the roll.
    :source: geometry; CL-07.
    """
    require_positive("width_m", width_m)
    require_positive("roll_width_m", roll_width_m)
    if not 0 <= overlap_m < roll_width_m:
        raise OutOfRange("overlap_m", overlap_m, f"0 or more and below {roll_width_m:g}")
    # Where one strip is enough, nothing overlaps.
    needed = (width_m - overlap_m) / (roll_width_m - overlap_m)
    return max(1, ceil(needed - _GUARD))


def rest_m(roll_g: float, core_g: float, areal_weight_g_m2: float, roll_width_m: float) -> float:
    """Length left on a roll by its mass.

    :raises OutOfRange: a figure not above zero, or a roll lighter than its core.
    :source: definition; CL-09.
    """
    require_positive("areal_weight_g_m2", areal_weight_g_m2)
    require_positive("roll_width_m", roll_width_m)
    if not 0 <= core_g <= roll_g < inf:
        raise OutOfRange("roll_g", roll_g, f"{core_g:g}, the mass of its core, or more")
    return (roll_g - core_g) / areal_weight_g_m2 / roll_width_m


def least_length_m(pieces: Sequence[Piece], roll_width_m: float) -> float:
    """Length no cutting of these pieces can go below.

    :raises OutOfRange: a piece wider than the roll, or a size not above zero.
    :source: area, longest piece, and pieces that cannot lie side by side; CL-05.
    """
    _require_fit(pieces, roll_width_m)
    by_area = sum(piece.area_m2 for piece in pieces) / roll_width_m
    longest = max((piece.length_m for piece in pieces), default=0.0)
    alone = sum(piece.length_m for piece in pieces if piece.width_m > roll_width_m / 2 + _GUARD)
    return max(by_area, longest, alone)


def cut(pieces: Sequence[Piece], roll_width_m: float) -> Cutting:
    """Lay pieces on a roll in shelves: the longest first, each where it first fits.

    :raises OutOfRange: a piece wider than the roll, or a size not above zero.
    :source: first-fit decreasing height; CL-05 gives 3.4 m for its pieces.
    """
    _require_fit(pieces, roll_width_m)
    placed: list[Placed] = []
    shelves: list[tuple[float, float, float]] = []
    for piece in sorted(pieces, key=lambda one: (-one.length_m, -one.width_m, one.name)):
        for place, (along_m, length_m, used_m) in enumerate(shelves):
            if used_m + piece.width_m <= roll_width_m + _GUARD:
                placed.append(Placed(piece, along_m, used_m))
                shelves[place] = (along_m, length_m, used_m + piece.width_m)
                break
        else:
            along_m = shelves[-1][0] + shelves[-1][1] if shelves else 0.0
            placed.append(Placed(piece, along_m, 0.0))
            shelves.append((along_m, piece.length_m, piece.width_m))
    length_m = shelves[-1][0] + shelves[-1][1] if shelves else 0.0
    return Cutting(tuple(placed), length_m, least_length_m(pieces, roll_width_m))


def _require_fit(pieces: Sequence[Piece], roll_width_m: float) -> None:
    require_positive("roll_width_m", roll_width_m)
    for piece in pieces:
        _require(piece)
        if piece.width_m > roll_width_m + _GUARD:
            allowed = f"at most {roll_width_m:g}, the width of the roll; the warp is not turned"
            raise OutOfRange("width_m", piece.width_m, allowed)


def _require(piece: Piece) -> None:
    require_positive("length_m", piece.length_m)
    require_positive("width_m", piece.width_m)
