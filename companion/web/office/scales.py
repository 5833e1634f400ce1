"""Scales: what they can judge, and whether they still do."""

from collections.abc import Mapping

from flask import Blueprint, g, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...records import catalogue, scale_checks
from ...records.store import Store
from ...trade.card_forms.check import FIELDS, read_check
from ...trade.cards import ScaleCard, SystemCard
from ...trade.judgement import judgements
from ...trade.scale_check import CLASSES, NOMINALS_G
from ..state import now_utc, state
from . import scale_tables
from .card_problem_words import card_problem
from .context import Choice
from .phrases import _
from .plan_context import SystemJudgements
from .scale_context import ScalesPage

blueprint = Blueprint("scales", __name__)


@blueprint.get("/scales")
def listing() -> str:
    """Scales, checks, and the form of a check."""
    return _page({}, {}, written="written" in request.args)


@blueprint.post("/scales/check")
def check() -> Response:
    """Write a check into the office's own log, or say what is wrong with it."""
    store = state().store
    typed = {name: request.form.get(name, "") for name in FIELDS}
    scales = {card.code: card for card in catalogue.latest(store, ScaleCard)}
    checked = read_check(typed, scales, catalogue.all_people(store))
    if checked.problems:
        labels = _labels()
        errors = {one.field: card_problem(one, labels[one.field]) for one in checked.problems}
        return make_response(_page(typed, errors), 422)
    scale_checks.write(store, checked, now_utc())
    g.event = "scale_checked"
    return redirect(url_for(".listing", written="yes", _anchor="list-checks"), 303)


def _labels() -> dict[str, str]:
    return {
        "scale": _("Scale"),
        "weight_g": _("Check weight"),
        "weight_class": _("Class of the weight"),
        "display_g": _("Display with the weight on it, g"),
        "person": _("Who checks"),
    }


def _page(typed: Mapping[str, str], errors: dict[str, str], *, written: bool = False) -> str:
    store = state().store
    page = ScalesPage(
        scales=scale_tables.scales(store),
        checks=scale_tables.checks(store),
        judgements=_judged(store),
        typed={name: typed.get(name, "") for name in FIELDS},
        errors=errors,
        choices=_choices(store),
        written=written,
    )
    return render_template("office/scales.html", page=page, labels=_labels())


def _judged(store: Store) -> tuple[SystemJudgements, ...]:
    scales = catalogue.latest(store, ScaleCard)
    return tuple(
        SystemJudgements(
            system=card.name,
            largest_cup_g=f"{card.largest_cup_g:g}",
            tolerance_pct=f"{card.tolerance_pct:g}",
            scales=judgements(card, scales),
        )
        for card in catalogue.latest(store, SystemCard)
    )


def _choices(store: Store) -> dict[str, tuple[Choice, ...]]:
    people = catalogue.all_people(store)
    return {
        "scale": tuple(Choice(one.code, one.code) for one in catalogue.latest(store, ScaleCard)),
        "weight_g": tuple(
            Choice(str(mass_g), _("%(mass)s g", mass=mass_g)) for mass_g in NOMINALS_G
        ),
        "weight_class": tuple(Choice(name, name) for name in CLASSES),
        "person": tuple(Choice(code, f"{code} · {name}") for code, name in people.items()),
    }
