"""Trace: from a cup to its lots and cans, from a lot or a can to its cups."""

from flask import Blueprint, make_response, render_template, request
from werkzeug.wrappers import Response

from ...errors import NotKnown
from ...records.jobs import customer_names
from ...records.lineage import Trace, lots_used, trace
from ...records.trace import CupStory
from ...trade.codes import forgive
from ..state import state
from . import words
from .context import CupLots, LotLine, TracePage
from .figures import day
from .lines import weighed_line
from .phrases import _
from .recalls import can_recall, lot_recall, recall_file, shipped_words
from .shipping_words import struck
from .shop import Shop, open_shop

blueprint = Blueprint("tracing", __name__)


@blueprint.get("/trace")
def page() -> Response:
    """What a code leads to."""
    typed = request.args.get("code", "").strip()
    if not typed:
        return make_response(_page(typed, "", Trace("")))
    try:
        return make_response(_page(typed, "", trace(state().store, typed)))
    except NotKnown:
        return make_response(_page(typed, _not_known(typed), Trace("")), 404)


@blueprint.get("/trace.csv")
def table() -> Response:
    """What a recall of a lot or a can reaches, for a person's spreadsheet.

    :raises NotKnown: neither a lot nor a can of this name is on record.
    """
    return recall_file(trace(state().store, request.args.get("code", "")))


def _not_known(typed: str) -> str:
    proposals = forgive(typed).proposals
    if proposals:
        return _(
            "Nothing is on record under “%(code)s”. Is it %(proposals)s?",
            code=typed,
            proposals=", ".join(proposals),
        )
    return _(
        "Nothing is on record under “%(code)s”. A code has six characters; a lot is written as on "
        "its can.",
        code=typed,
    )


def _page(typed: str, error: str, found: Trace) -> str:
    shop = open_shop(state().store)
    lot, can = found.lot, found.container
    shown = TracePage(
        typed=typed,
        error=error,
        code=found.code,
        planned=found.planned and not found.cups,
        cups=tuple(_cup(story, shop) for story in found.cups),
        lot=lot,
        lot_expires=day(lot.card.expires_on) if lot and lot.card and lot.card.expires_on else "",
        lot_cups=tuple(weighed_line(story, shop) for story in lot.cups) if lot else (),
        lot_recall=lot_recall(lot, shop) if lot else None,
        container=can,
        container_recall=can_recall(can, shop) if can else None,
        container_opened=day(can.card.opened_on) if can and can.card and can.card.opened_on else "",
        part=found.part,
        part_name=shop.part(found.part.card.job) if found.part else "",
        part_shipped=shipped_words(found.part.shipment) if found.part else "",
        part_struck=tuple(struck(one, customer_names(state().store)) for one in found.part.struck)
        if found.part
        else (),
        part_cups=tuple(weighed_line(story, shop) for story in found.part.cups)
        if found.part
        else (),
        container_cups=tuple(weighed_line(story, shop) for story in can.cups) if can else (),
    )
    return render_template("office/trace.html", page=shown)


def _cup(story: CupStory, shop: Shop) -> CupLots:
    return CupLots(
        line=weighed_line(story, shop),
        lots=tuple(LotLine(use.component, use.lot, use.container, "") for use in lots_used(story)),
        warnings=tuple(words.flag(flag) for flag in story.cup.flags) if story.cup else (),
    )
