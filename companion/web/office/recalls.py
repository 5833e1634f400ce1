"""What a recall reaches, as a page shows it and as a file."""

from collections.abc import Iterable, Iterator, Sequence

from flask import Response

from ...errors import NotKnown
from ...records import recall
from ...records.jobs import customer_names
from ...records.lineage import ContainerTrace, LotTrace, PartSent, Trace
from ...records.recall import Recall
from ...records.shipping import Shipment
from ...records.trace import CupStory
from ...wire.people_csv import Cell, Moment
from ..state import state
from . import spreadsheet
from .context import RecallLines, SentLine
from .figures import day
from .lines import weighed_line
from .phrases import _
from .shipping_words import shipped
from .shop import Shop


def lot_recall(lot: LotTrace, shop: Shop) -> RecallLines:
    """What a recall of a lot reaches."""
    return _lines(lot.code, recall.of_lot(state().store, lot), shop)


def can_recall(can: ContainerTrace, shop: Shop) -> RecallLines:
    """What a recall of a can reaches."""
    return _lines(can.code, recall.of_can(state().store, can), shop)


def _lines(code: str, found: Recall, shop: Shop) -> RecallLines:
    return RecallLines(
        code=code,
        parts=_sent(found.parts),
        doubtful=tuple(weighed_line(story, shop) for story in found.doubtful),
        doubtful_parts=_sent(found.doubtful_parts),
        clear=_sent(found.clear),
        since=day(found.since),
    )


def _sent(found: Iterable[PartSent]) -> tuple[SentLine, ...]:
    return tuple(
        SentLine(one.card.code, one.card.serial, one.card.job, shipped_words(one.shipment))
        for one in found
    )


def shipped_words(shipment: Shipment | None) -> str:
    """To whom and when a part went; empty while it is here."""
    if shipment is None:
        return ""
    return shipped(shipment, customer_names(state().store))


def recall_file(found: Trace) -> Response:
    """One line per cup and part, with what is said of it.

    :raises NotKnown: the code is neither a lot nor a can.
    """
    store, lot, can = state().store, found.lot, found.container
    if lot:
        code, cups, reached = lot.code, lot.cups, recall.of_lot(store, lot)
    elif can:
        code, cups, reached = can.code, can.cups, recall.of_can(store, can)
    else:
        raise NotKnown("lot or container", found.code)
    headings = (
        *(_("Finding"), _("What"), _("Code"), _("Serial"), _("Job")),
        *(_("Begun or shipped (UTC)"), _("Customer")),
    )
    return spreadsheet.answer(f"trace-{_plain(code)}", headings, _cells(cups, reached))


def _plain(code: str) -> str:
    """A code as part of a file name."""
    return "".join(one if one.isascii() and one.isalnum() else "-" for one in code)[:40]


def _cells(cups: Sequence[CupStory], found: Recall) -> Iterator[tuple[Cell, ...]]:
    names = customer_names(state().store)
    for finding, stories, parts in (
        (_("in it"), cups, found.parts),
        (_("cannot be excluded"), found.doubtful, found.doubtful_parts),
        (_("proven clear"), (), found.clear),
    ):
        for story in stories:
            first = story.rows[0]
            begun = Moment(first.recorded_at[:19].replace("T", " "))
            yield finding, _("cup"), story.code, "", first.job, begun, ""
        for one in parts:
            sent, card = one.shipment, one.card
            customer = names.get(sent.customer, sent.customer) if sent else ""
            left = Moment(sent.day if sent else "")
            yield finding, _("part"), card.code, card.serial, card.job, left, customer
