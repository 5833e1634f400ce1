"""Weighing a can, and striking a weighing that was wrong: a scale closes the balance."""

from collections.abc import Sequence

from flask import Blueprint, g, make_response, redirect, request, url_for
from werkzeug.wrappers import Response

from ...records import cans, catalogue
from ...trade.card_forms import CardProblem
from ...trade.card_forms.weighed_can import read_can_weighing, read_strike
from ...trade.cards import Container
from ..state import now_utc, state
from . import cards
from .can_forms import weighing_form, weighing_labels
from .card_problem_words import card_problem

blueprint = Blueprint("can_weighing", __name__)


@blueprint.post("/cards/container/weigh")
def weigh() -> Response:
    """Write the gross mass of a can into the office's own log, or say what is wrong with it."""
    store, can = state().store, _can()
    typed = _typed("gross_g", "weighed_by")
    checked = read_can_weighing(typed, can, catalogue.all_people(store))
    if checked.problems:
        return _refused(can, typed, checked.problems)
    cans.weigh(store, can, checked, now_utc())
    g.event = "container_weighed"
    return redirect(
        url_for("office.cards.page", kind="container", code=can.code, did="weighed"), 303
    )


@blueprint.post("/cards/container/strike")
def strike() -> Response:
    """Strike a weighing with a reason; it stays on record and counts no more."""
    store, can = state().store, _can()
    typed = _typed("weighing", "why_struck", "struck_by")
    standing = [one.row.event_id for one in cans.weighings(store, can.code) if not one.strike]
    checked = read_strike(typed, standing, catalogue.all_people(store))
    if checked.problems:
        return _refused(can, typed, checked.problems)
    cans.strike(store, can, checked, now_utc())
    g.event = "container_weighing_struck"
    return redirect(
        url_for("office.cards.page", kind="container", code=can.code, did="struck"), 303
    )


def _can() -> Container:
    code = request.args.get("code", "")
    can: Container = catalogue.revisions(state().store, Container, code)[-1].card
    return can


def _typed(*names: str) -> dict[str, str]:
    return {name: request.form.get(name, "") for name in names}


def _refused(can: Container, typed: dict[str, str], problems: Sequence[CardProblem]) -> Response:
    labels = weighing_labels()
    errors = {one.field: card_problem(one, labels[one.field]) for one in problems}
    form = weighing_form(can.code, typed, errors)
    return make_response(cards.shown("container", can.code, weighing=form), 422)
