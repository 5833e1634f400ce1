"""Weighing a can: the balance of what was drawn is closed by a scale."""

from flask import Blueprint, g, make_response, redirect, request, url_for
from werkzeug.wrappers import Response

from ...records import cans, catalogue
from ...trade.card_forms.bought import read_can_weighing
from ...trade.cards import Container
from ..state import now_utc, state
from . import cards
from .card_problem_words import card_problem

blueprint = Blueprint("can_weighing", __name__)

_FIELDS = ("gross_g", "weighed_by")


@blueprint.post("/cards/container/weigh")
def weigh() -> Response:
    """Write the gross mass of a can into the office's own log, or say what is wrong with it."""
    store, code = state().store, request.args.get("code", "")
    can: Container = catalogue.revisions(store, Container, code)[-1].card
    typed = {name: request.form.get(name, "") for name in _FIELDS}
    checked = read_can_weighing(typed, can, catalogue.all_people(store))
    if checked.problems:
        labels = cards.weighing_labels()
        errors = {one.field: card_problem(one, labels[one.field]) for one in checked.problems}
        form = cards.weighing_form(typed, errors)
        return make_response(cards.shown("container", code, weighing=form), 422)
    cans.weigh(store, can, checked, now_utc())
    g.event = "container_weighed"
    return redirect(url_for("office.cards.page", kind="container", code=code, did="weighed"), 303)
