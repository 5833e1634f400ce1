"""Printing labels: for planned cups, for cans, for parts, and blank ones ahead."""

from collections.abc import Sequence

from flask import Blueprint, make_response, redirect, request, url_for
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from ...errors import NotKnown, OutOfRange, Taken
from ...paper.asked import BLANK, PARTS, check_asked
from ...paper.labels import BlankLabel, Label
from ...paper.pdf import render
from ...records import labels, parts
from ..state import now_utc, state
from .label_context import NewPart
from .label_page import page, problems_in_words, read_asked
from .problem_words import part_problem

blueprint = Blueprint("labels", __name__)


@blueprint.get("/labels")
def form() -> Response:
    """The form, with the first page as it will be printed."""
    fresh = "shown" not in request.args
    asked, found = read_asked(request.args, fresh=fresh)
    checked = check_asked(asked, found.texts, state().config.address)
    errors = problems_in_words(found, checked)
    # A page nobody has filled in yet finds no fault with an empty list.
    if fresh and found.plan_is_open and not asked.codes and asked.what != BLANK:
        errors = {}
    return make_response(page(asked, found, checked, errors), 422 if errors else 200)


@blueprint.post("/labels")
def print_labels() -> Response:
    """The labels as PDF; blank ones get their codes now."""
    asked, found = read_asked(request.form)
    checked = check_asked(asked, found.texts, state().config.address)
    if errors := problems_in_words(found, checked):
        return make_response(page(asked, found, checked, errors), 422)
    store, at = state().store, now_utc()
    wanted: Sequence[Label]
    if asked.what == BLANK:
        wanted = [BlankLabel(code) for code in labels.take(store, checked.count, "", at)]
    else:
        wanted = [found.labels[code] for code in asked.codes]
    body = render(wanted, checked.sheet, state().config.address)
    labels.mark_printed(store, [label.code for label in wanted], at)
    response = make_response(body)
    response.headers["Content-Type"] = "application/pdf"
    response.headers["Content-Disposition"] = 'attachment; filename="labels.pdf"'
    return response


@blueprint.post("/labels/parts")
def enter_part() -> Response:
    """Enter a part, which gets its code now; or say what is wrong with its job or serial."""
    typed = NewPart(request.form.get("job", ""), request.form.get("serial", ""))
    try:
        parts.add(state().store, typed.job, typed.serial, now_utc())
    except (NotKnown, OutOfRange, Taken) as error:
        asked, found = read_asked(MultiDict({"what": PARTS}), fresh=True)
        checked = check_asked(asked, found.texts, state().config.address)
        errors = {error.field: part_problem(error)}
        return make_response(page(asked, found, checked, errors, typed), 422)
    return redirect(url_for(".form", what=PARTS), 303)
