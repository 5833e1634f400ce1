"""The cutting list of a job: a piece for every layer, and how the pieces lie on their roll.

A piece gets its margin first and is then turned: on the roll lies the rectangle that holds it with
its warp along the roll. Where that is wider than the roll it is cut in strips, if an overlap says
so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .cards import Cloth
from .cloth import Cutting, Piece, cut, on_the_bias, strips, with_margin
from .errors import OutOfRange
from .job_order import JobOrder, PlyOrder, layer_by_layer

_GUARD = 1e-9


@dataclass(frozen=True, slots=True)
class ClothCutting:
    """Pieces of one cloth, or why they cannot be cut.

    :ivar card: None where the cloth has no card.
    :ivar problem: ``no_card``, ``no_size``, ``too_wide`` or ``overlap``; empty if cut.
    :ivar ply: number of the layer the problem is about; 0 if about the cloth.
    :ivar found_m: width or overlap that does not fit the roll.
    :ivar cut_g: mass of the pieces with their margin, not of the rectangles on the roll.
    """

    cloth: str
    card: Cloth | None
    cutting: Cutting | None
    cut_g: float = 0.0
    problem: str = ""
    ply: int = 0
    found_m: float = 0.0


@dataclass(frozen=True, slots=True)
class _Wanted:
    number: int
    ply: PlyOrder
    piece: Piece


def cutting_list(
    order: JobOrder, cloths: Mapping[str, Cloth], overlap_m: float | None = None
) -> tuple[ClothCutting, ...]:
    """Pieces of a job by cloth, in the order in which the cloths are laid first.

    :param cloths: cards by code.
    :param overlap_m: of strips side by side; None cuts no piece in strips.
    """
    plies = layer_by_layer(order).plies
    codes = dict.fromkeys(ply.cloth for ply in plies)
    numbered = list(enumerate(plies, 1))
    return tuple(
        _of_cloth(
            code,
            cloths.get(code),
            [(number, ply) for number, ply in numbered if ply.cloth == code],
            order,
            overlap_m,
        )
        for code in codes
    )


def _of_cloth(
    code: str,
    card: Cloth | None,
    plies: Sequence[tuple[int, PlyOrder]],
    order: JobOrder,
    overlap_m: float | None,
) -> ClothCutting:
    if card is None:
        return ClothCutting(code, None, None, problem="no_card")
    wanted: list[_Wanted] = []
    for number, ply in plies:
        piece = _piece(number, ply, order)
        if piece is None:
            return ClothCutting(code, card, None, problem="no_size", ply=number)
        wanted.append(_Wanted(number, ply, piece))
    cut_g = card.areal_weight_g_m2 * sum(one.piece.area_m2 for one in wanted)
    return _on_the_roll(code, card, wanted, cut_g, overlap_m)


def _piece(number: int, ply: PlyOrder, order: JobOrder) -> Piece | None:
    """The piece of a layer with its margin; None where no size is said."""
    length_m = ply.length_m if ply.length_m is not None else order.length_m
    width_m = ply.width_m if ply.width_m is not None else order.width_m
    if length_m is None or width_m is None:
        return None
    return with_margin(Piece(str(number), length_m, width_m), order.cut_margin_m)


def _on_the_roll(
    code: str,
    card: Cloth,
    wanted: Sequence[_Wanted],
    cut_g: float,
    overlap_m: float | None,
) -> ClothCutting:
    pieces: list[Piece] = []
    for one in wanted:
        turned = on_the_bias(one.piece, one.ply.angle_deg)
        if turned.width_m <= card.usable_width_m + _GUARD:
            pieces.append(turned)
        elif overlap_m is None:
            return ClothCutting(code, card, None, cut_g, "too_wide", one.number, turned.width_m)
        else:
            try:
                pieces += _in_strips(turned, card.usable_width_m, overlap_m)
            except OutOfRange:
                return ClothCutting(code, card, None, cut_g, "overlap", one.number, overlap_m)
    return ClothCutting(code, card, cut(pieces, card.usable_width_m), cut_g)


def _in_strips(piece: Piece, roll_width_m: float, overlap_m: float) -> list[Piece]:
    """Strips of equal width that cover a piece with their overlaps; the warp is not turned."""
    count = strips(piece.width_m, roll_width_m, overlap_m)
    width_m = min((piece.width_m + (count - 1) * overlap_m) / count, roll_width_m)
    return [Piece(f"{piece.name}.{n}", piece.length_m, width_m) for n in range(1, count + 1)]


def metres_of_mm(length_mm: float) -> float:
    """A length in metres."""
    return length_mm / 1000


def units(length_m: float) -> float:
    """A length in the drawing of a roll: a hundredth of a metre is one unit."""
    return round(100 * length_m, 2)
