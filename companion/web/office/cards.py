"""One card: its figures with their sources, what to look at, and every revision of it."""

from typing import Any

from flask import Blueprint, render_template, request

from ...errors import NotKnown
from ...records import catalogue, plans, stock
from ...records.store import Store
from ...trade import card_forms
from ...trade.card_forms import FORMS
from ...trade.cards import Container, Lot, ScaleCard, SystemCard
from ...trade.judgement import judgements
from ..state import now_utc, state
from . import caution_words
from .can_forms import weighing_form
from .card_context import CanWeighing, CardFact, CardPage, FactSection, RevisionLine, Section, Spec
from .card_kinds import card_type_of
from .card_words import kind_words, sections
from .context import Fact
from .figures import day, figure
from .phrases import _
from .stock_words import can_facts

blueprint = Blueprint("cards", __name__)


@blueprint.get("/cards/<kind>")
def page(kind: str) -> str:
    """A card in its newest revision, or in the one that was asked for."""
    asked, did = request.args.get("revision", ""), request.args.get("did", "")
    return shown(kind, request.args.get("code", ""), asked, did)


def shown(
    kind: str, code: str, asked: str = "", did: str = "", weighing: CanWeighing | None = None
) -> str:
    """The page of a card.

    :param asked: revision; empty for the newest.
    :param did: what was just done.
    :param weighing: the form of weighing a can, where it was sent and something was wrong.
    """
    store, card_type = state().store, card_type_of(kind)
    found = catalogue.revisions(store, card_type, code)
    newest = found[-1].card
    asked = asked or str(newest.revision)
    card = next((one.card for one in found if str(one.card.revision) == asked), None)
    if card is None:
        raise NotKnown("revision", asked)
    page = CardPage(
        kind=kind,
        kind_words=kind_words(kind),
        code=card.code,
        revision=card.revision,
        newest=newest.revision,
        sections=_sections(kind, card),
        cautions=caution_words.card_cautions(card) if isinstance(card, SystemCard) else (),
        outdated=len(plans.outdated(store, newest)) if isinstance(newest, SystemCard) else 0,
        stock=_stock(store, card) if isinstance(card, Container) else (),
        judgements=judgements(card, catalogue.latest(store, ScaleCard))
        if isinstance(card, SystemCard)
        else (),
        revisions=tuple(
            RevisionLine(one.card.revision, one.made_at, one.card == card)
            for one in reversed(found)
        ),
        saved=_saved(did, card),
        weighing=weighing or (weighing_form(code) if isinstance(card, Container) else None),
    )
    return render_template("office/card.html", page=page)


def _saved(did: str, card: Any) -> str:
    if did == "weighed":
        return _("The weighing was written into the log of the office.")
    if did == "struck":
        return _("The weighing was struck. It stays on record and counts no more.")
    if did == "again":
        return _("The form was sent twice. This is the can of the first time; no other was made.")
    if did == "saved":
        return _("Saved as revision %(revision)s.", revision=card.revision)
    return _("Nothing was changed, so no revision was made.") if did == "same" else ""


def _stock(store: Store, card: Container) -> tuple[Fact, ...]:
    # The balance is that of the newest card, whichever revision is looked at.
    found = stock.by_material(store, now_utc()[:10])
    cans = [can for material in found.values() for can in material.containers]
    return next((can_facts(can) for can in cans if can.card.code == card.code), ())


def _sections(kind: str, card: Any) -> tuple[FactSection, ...]:
    written = card_forms.write(kind, card)
    sources = getattr(card, "sources", {})
    return tuple(
        found
        for section in sections(kind)
        if (found := _section(kind, section, card, written, sources)).facts
    )


def _section(
    kind: str, section: Section, card: Any, written: dict[str, str], sources: dict[str, str]
) -> FactSection:
    facts = [
        CardFact(spec.label, _text(kind, spec, card, written), sources.get(spec.source, ""))
        for spec in section.fields
        if _is_told(spec, written)
    ]
    if isinstance(card, SystemCard) and any(spec.name == "ahew" for spec in section.fields):
        facts += _chemistry(card)
    return FactSection(section.heading, tuple(facts))


def _chemistry(card: SystemCard) -> list[CardFact]:
    computed = caution_words.chemistry(card)
    return [CardFact(_("Ratio by chemistry"), computed, "")] if computed else []


def _is_told(spec: Spec, written: dict[str, str]) -> bool:
    """Further points nobody gave, readings nobody keeps and no reason need no line."""
    optional = spec.name.startswith(
        ("pot_2", "pot_3", "pot_4", "reading_", "density", "part_b_pbv", "reason")
    )
    return spec.name != "code" and (not optional or bool(written.get(spec.name)))


def _text(kind: str, spec: Spec, card: Any, written: dict[str, str]) -> str:
    if spec.name == "part_b_pbw":
        return caution_words.ratio(card)
    text = written.get(spec.name, "")
    if spec.kind == "tick":
        return _("yes") if text else _("no")
    if not text:
        return _("not on record") if isinstance(card, Lot | Container) else _("not on the sheet")
    if spec.kind == "day":
        return day(text)
    return figure(text) if spec.name in FORMS[kind].spans else text
