"""The cutting list of a job: its pieces on the rolls of their cloths."""

from flask import Blueprint, make_response, render_template, request
from werkzeug.wrappers import Response

from ...records import catalogue
from ...trade.cards import Cloth
from ...trade.cloth import Placed
from ...trade.cutting import ClothCutting, cutting_list, metres_of_mm, units
from ...trade.form_reading import Bounds, Reading
from ...trade.numbers import fixed
from ..state import state
from .figures import figure, grams
from .job_context import ClothSection, CutPiece, CuttingPage, Fact
from .job_plan import known_job
from .job_view import job_line, jobs_shop
from .job_words import job_problem
from .phrases import _

blueprint = Blueprint("job_cutting", __name__)

_OVERLAP = Bounds("0", "500", needed=False)


@blueprint.get("/jobs/<code>/cutting")
def page(code: str) -> Response:
    """Pieces of every cloth, drawn to scale."""
    store, job, reading = state().store, known_job(code), Reading()
    typed = request.args.get("overlap", "")
    overlap_mm = reading.number("overlap", typed, _OVERLAP)
    overlap_m = None if overlap_mm is None else metres_of_mm(overlap_mm)
    cloths = {card.code: card for card in catalogue.latest(store, Cloth)}
    assert job.order is not None
    shown = CuttingPage(
        line=job_line(job, jobs_shop(store)),
        overlap=typed,
        errors={problem.field: job_problem(problem) for problem in reading.problems},
        cloths=tuple(_section(one) for one in cutting_list(job.order, cloths, overlap_m)),
    )
    body = render_template("office/cutting.html", page=shown)
    return make_response(body, 422 if reading.problems else 200)


def _section(one: ClothCutting) -> ClothSection:
    cutting = one.cutting
    return ClothSection(
        cloth=one.cloth,
        said=_said(one.card) if one.card else "",
        problem=_problem(one),
        facts=_facts(one),
        pieces=tuple(_piece(placed) for placed in cutting.placed) if cutting else (),
        drawn_length=units(cutting.length_m) if cutting else 0.0,
        drawn_width=units(one.card.usable_width_m) if one.card else 0.0,
    )


def _said(card: Cloth) -> str:
    return _(
        "%(fibre)s, %(weight)s g/m², %(width)s of the roll can be used",
        fibre=card.fibre,
        weight=figure(f"{card.areal_weight_g_m2:g}"),
        width=_metres(card.usable_width_m),
    )


def _facts(one: ClothCutting) -> tuple[Fact, ...]:
    if one.cutting is None:
        return ()
    return (
        Fact(_("Length used"), _metres(one.cutting.length_m)),
        Fact(_("No cutting can use less than"), _metres(one.cutting.at_least_m)),
        Fact(_("Mass of the cut plies"), _("%(mass)s g", mass=grams(one.cut_g))),
        Fact(_("Pieces"), str(len(one.cutting.placed))),
    )


def _piece(placed: Placed) -> CutPiece:
    piece = placed.piece
    return CutPiece(
        name=piece.name,
        length=_metres(piece.length_m),
        width=_metres(piece.width_m),
        at=_metres(placed.along_m),
        across=_metres(placed.across_m),
        x=units(placed.along_m),
        y=units(placed.across_m),
        drawn_length=units(piece.length_m),
        drawn_width=units(piece.width_m),
    )


def _problem(one: ClothCutting) -> str:
    """Why a cloth cannot be cut, and what to do."""
    width = _metres(one.card.usable_width_m) if one.card else ""
    words = {"cloth": one.cloth, "ply": one.ply, "found": _metres(one.found_m), "width": width}
    return {
        "no_card": _(
            "Cloth %(cloth)s has no card, so the width of its roll is not known. Enter it under "
            "Materials.",
            **words,
        ),
        "no_size": _(
            "Ply %(ply)s: length or width of its piece is missing. Enter both in the job, for the "
            "row or for all.",
            **words,
        ),
        "too_wide": _(
            "Ply %(ply)s: its piece takes %(found)s across the roll, which has %(width)s; the warp "
            "is not turned. Give an overlap to cut it in strips, choose another angle, or take a "
            "wider cloth.",
            **words,
        ),
        "overlap": _(
            "Ply %(ply)s: an overlap of %(found)s is as wide as the roll, which has %(width)s. A "
            "smaller one is allowed.",
            **words,
        ),
    }.get(one.problem, "")


def _metres(length_m: float) -> str:
    return _("%(metres)s m", metres=figure(fixed(length_m, 3)))
