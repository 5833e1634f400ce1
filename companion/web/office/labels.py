"""Printing labels: for planned cups, for cans, and blank ones ahead."""

from collections.abc import Sequence

from flask import Blueprint, make_response, render_template, request
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from ...paper.asked import BLANK, CONTAINERS, CUPS, KINDS, Asked, Checked, check_asked
from ...paper.labels import BlankLabel, Label
from ...paper.pdf import render
from ...paper.preview import preview
from ...paper.sheet import A4_3X8, FIELDS, ROLL_62X29, Sheet, written
from ...records import labels
from ..state import now_utc, state
from . import label_words
from .context import Choice, LabelsPage, Preset
from .label_choices import Choosable, cans_to_label, cups_to_label
from .problem_words import sheet_problem

blueprint = Blueprint("labels", __name__)

_PRESETS = {"a4": A4_3X8, "roll": ROLL_62X29}
_FIRST = "a4"


@blueprint.get("/labels")
def form() -> Response:
    """The form, with the first page as it will be printed."""
    fresh = "shown" not in request.args
    asked, found = _asked(request.args, fresh=fresh)
    checked = check_asked(asked, found.texts)
    # A page nobody has filled in yet finds no fault with an empty list.
    problems = () if fresh and not asked.codes and asked.what != BLANK else checked.problems
    status = 422 if problems else 200
    return make_response(_page(asked, found, checked, shows_problems=bool(problems)), status)


@blueprint.post("/labels")
def print_labels() -> Response:
    """The labels as PDF; blank ones get their codes now."""
    asked, found = _asked(request.form)
    checked = check_asked(asked, found.texts)
    if checked.problems:
        return make_response(_page(asked, found, checked, shows_problems=True), 422)
    store, at = state().store, now_utc()
    wanted: Sequence[Label]
    if asked.what == BLANK:
        wanted = [BlankLabel(code) for code in labels.take(store, checked.count, "", at)]
    else:
        wanted = [found.labels[code] for code in asked.codes]
    body = render(wanted, checked.sheet)
    labels.mark_printed(store, [label.code for label in wanted], at)
    response = make_response(body)
    response.headers["Content-Type"] = "application/pdf"
    response.headers["Content-Disposition"] = 'attachment; filename="labels.pdf"'
    return response


def _asked(sent: MultiDict[str, str], *, fresh: bool = False) -> tuple[Asked, Choosable]:
    """What was sent; fields that were not sent start from the first preset."""
    what = sent.get("what", CUPS)
    what = what if what in KINDS else CUPS
    found = _choosable(what)
    preset = _PRESETS.get(sent.get("preset", ""))
    start_from = written(preset or _PRESETS[_FIRST])
    measures = {
        name: start_from[name] if preset else sent.get(name, start_from[name]) for name in FIELDS
    }
    codes = found.unmade if fresh else tuple(dict.fromkeys(sent.getlist("codes")))
    return Asked(what, codes, sent.get("count", "24"), measures), found


def _choosable(what: str) -> Choosable:
    if what == CUPS:
        return cups_to_label(state().store)
    return cans_to_label(state().store) if what == CONTAINERS else Choosable({}, {}, {})


def _page(asked: Asked, found: Choosable, checked: Checked, *, shows_problems: bool) -> str:
    wanted: Sequence[Label] = [found.labels[code] for code in asked.codes if code in found.labels]
    if asked.what == BLANK:
        wanted = [BlankLabel("")] * checked.count
    page = LabelsPage(
        asked=asked,
        kinds=tuple(Choice(name, label_words.kind(name)) for name in KINDS),
        choices=found.choices(asked.codes),
        presets=tuple(Preset(name, _measures(sheet)) for name, sheet in _PRESETS.items()),
        errors={one.field: sheet_problem(one) for one in checked.problems}
        if shows_problems
        else {},
        count=len(wanted),
        preview=preview(wanted, checked.sheet) if wanted and not checked.problems else None,
    )
    return render_template("office/labels.html", page=page)


def _measures(sheet: Sheet) -> str:
    return label_words.preset(written(sheet), single=sheet.places == 1)
