"""Entering a card, and changing it into its next revision; what was typed is never lost."""

from collections.abc import Mapping, Sequence
from typing import Any

from flask import Blueprint, g, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import NotKnown, Taken
from ...records import cans, catalogue
from ...records.sent_forms import SentBefore
from ...records.store import Store
from ...trade import card_forms
from ...trade.card_forms import FORMS, SOURCE, CardProblem, Known
from ...trade.cards import Container, Lot
from ..state import now_utc, state
from .card_context import CardFormPage, FieldLine, FormSection, Section, Spec
from .card_kinds import card_type_of, choices
from .card_problem_words import card_problem, taken
from .card_race import Versions, rebase
from .card_words import kind_words, new_words, sections
from .figures import figure
from .form_marks import new_mark, sent_mark
from .phrases import _

blueprint = Blueprint("card_editing", __name__)

_NO_SOURCE = "common practice, no source"


@blueprint.get("/cards/<kind>/edit")
def form(kind: str) -> str:
    """The form of a new card, or of the next revision of one."""
    card_type, code = card_type_of(kind), request.args.get("code", "")
    if not code:
        return _form(kind, None, _fresh(kind), {})
    card = catalogue.revisions(state().store, card_type, code)[-1].card
    return _form(kind, card, _written(kind, card), {})


@blueprint.post("/cards/<kind>/edit")
def save(kind: str) -> Response:
    """Keep the card as its next revision, or say what is wrong with each field."""
    store = state().store
    before = _opened(store, kind)
    typed = {name: request.form.get(name, "") for name in FORMS[kind].fields}
    checked = card_forms.read(kind, typed, before, _known(store))
    if checked.problems:
        errors = _in_words(kind, checked.problems)
        return make_response(_form(kind, before, typed, errors), 422)
    if checked.card == before:
        return _card_page(kind, before.code, "same")
    try:
        kept = _keep(store, checked.card)
    except SentBefore as error:
        return _card_page(kind, error.result, "again")
    except Taken as error:
        if error.field == "revision":
            return _overtaken(kind, before, checked.card, typed, error)
        return make_response(_form(kind, before, typed, {error.field: taken(error)}), 409)
    g.event = "card_revised"
    return _card_page(kind, kept.code, "saved")


def _card_page(kind: str, code: str, did: str) -> Response:
    return redirect(url_for("office.cards.page", kind=kind, code=code, did=did), 303)


def _overtaken(
    kind: str, opened: Any, mine: Any, typed: Mapping[str, str], error: Taken
) -> Response:
    """The form again; the next try comes after the revision that somebody else saved."""
    newest = catalogue.revisions(state().store, card_type_of(kind), error.value)[-1].card
    found = rebase(kind, Versions(opened, mine, newest), typed, _labels(kind))
    said = [taken(error)]
    if found.taken_over:
        said.append(_("Taken over from it: %(fields)s.", fields=", ".join(found.taken_over)))
    errors = {"revision": " ".join(said), **found.notes}
    return make_response(_form(kind, newest, found.typed, errors), 409)


def _opened(store: Store, kind: str) -> Any:
    """The revision the form was opened at; None for a new card.

    :raises NotKnown: there is no such card, or no such revision of it.
    """
    card_type = card_type_of(kind)
    code, revision = request.form.get("card", ""), request.form.get("revision", "")
    if not code:
        return None
    for one in catalogue.revisions(store, card_type, code):
        if str(one.card.revision) == revision:
            return one.card
    raise NotKnown("revision", revision)


def _keep(store: Store, card: Any) -> Any:
    if isinstance(card, Container) and not card.code:
        return cans.add(store, card, now_utc(), sent_mark())
    return catalogue.revise(store, card, now_utc())


def _known(store: Store) -> Known:
    lots = {lot.code: lot for lot in catalogue.latest(store, Lot)}
    return Known(lots, cans.by_lot(store), cans.used(store))


def _fresh(kind: str) -> dict[str, str]:
    """What stands in the form of a new card."""
    if kind != "system":
        return {}
    return {"tolerance_pct": "2", f"{SOURCE}tolerance_pct": _NO_SOURCE}


def _written(kind: str, card: Any) -> dict[str, str]:
    """A card in its form, figures as the reader's language writes them."""
    spans = FORMS[kind].spans
    written = card_forms.write(kind, card)
    return {name: figure(text) if name in spans else text for name, text in written.items()}


def _in_words(kind: str, problems: Sequence[CardProblem]) -> dict[str, str]:
    """Every problem in words, in the order of the page."""
    found = {one.field: one for one in problems}
    return {
        name: card_problem(found[name], label)
        for name, label in _labels(kind).items()
        if name in found
    }


def _labels(kind: str) -> dict[str, str]:
    """What each field is called, in the order of the page."""
    labels = {}
    for section in sections(kind):
        for spec in section.fields:
            labels[spec.name] = spec.label
            if spec.source:
                labels[SOURCE + spec.source] = source_label(spec)
    return labels


def source_label(spec: Spec) -> str:
    """What the field that asks for a source is called."""
    return _("Source: %(figure)s", figure=spec.source_of or spec.label)


def _form(kind: str, before: Any, typed: Mapping[str, str], errors: dict[str, str]) -> str:
    page = CardFormPage(
        kind=kind,
        mark=request.form.get("mark", "") or new_mark(),
        title=_title(kind, before),
        code=before.code if before else "",
        revision=before.revision if before else 0,
        sections=tuple(_section(kind, one, typed, errors, before) for one in sections(kind)),
        errors=errors,
    )
    return render_template("office/card_form.html", page=page)


def _title(kind: str, before: Any) -> str:
    if before is None:
        return new_words(kind)
    return _("%(kind)s %(code)s: change", kind=kind_words(kind), code=before.code)


def _section(
    kind: str, section: Section, typed: Mapping[str, str], errors: Mapping[str, str], before: Any
) -> FormSection:
    lines = []
    for spec in section.fields:
        # A code stays, and a can that is new had no other lot.
        if spec.name == ("code" if before is not None else "reason"):
            continue
        lines.append(_line(kind, spec, typed, errors))
        if spec.source:
            asked = Spec(SOURCE + spec.source, source_label(spec), kind="text")
            lines.append(_line(kind, asked, typed, errors))
    return FormSection(section.heading, section.note, tuple(lines))


def _line(kind: str, spec: Spec, typed: Mapping[str, str], errors: Mapping[str, str]) -> FieldLine:
    return FieldLine(
        spec=spec,
        value=typed.get(spec.name, ""),
        error=errors.get(spec.name, ""),
        choices=choices(state().store, kind, spec.name)
        if spec.kind in ("choice", "suggested")
        else (),
    )
