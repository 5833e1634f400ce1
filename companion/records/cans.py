"""Cans: each gets a code of its own, which stands on its label."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import select

from ..trade.card_forms.weighed_can import CheckedCanWeighing, CheckedStrike
from ..trade.cards import Container
from ..trade.rows import Row
from . import catalogue, labels, office_log, sent_forms
from .log import row_of
from .schema import rows
from .store import Store


@dataclass(frozen=True, slots=True)
class KeptWeighing:
    """A weighing of a can, and the row that struck it; None while it stands."""

    row: Row
    strike: Row | None


def add(store: Store, can: Container, at: str, mark: str = "") -> Container:
    """Keep a new can and mint its code: both are kept, or neither.

    :param can: without code and revision.
    :param at: now, RFC 3339, UTC.
    :param mark: of the form it comes from; empty if none.
    :return: the can as kept.
    :raises SentBefore: the same form was sent before, with the code of its can.
    """
    with store.write() as connection:
        sent_forms.refuse_again(connection, mark)
        (code,) = labels.take_codes(connection, 1, "", at)
        kept = replace(can, code=code, revision=1)
        catalogue.put_card(connection, kept, at)
        sent_forms.keep(connection, mark, code, at)
    return kept


def by_lot(store: Store) -> Mapping[str, Sequence[str]]:
    """Codes of the cans of each lot, by the newest card of each can."""
    found: dict[str, list[str]] = defaultdict(list)
    for can in catalogue.latest(store, Container):
        found[can.lot].append(can.code)
    return found


def used(store: Store) -> frozenset[str]:
    """Codes of the cans that a row of a cup names, also where that row was struck."""
    query = select(rows.c.container).where(rows.c.kind == "lot_used").distinct()
    with store.read() as connection:
        return frozenset(connection.scalars(query)) - {""}


def weigh(store: Store, can: Container, weighing: CheckedCanWeighing, at: str) -> None:
    """Keep the gross mass of a can as a row of the office's own log.

    :param weighing: without problems.
    :param at: now, RFC 3339, UTC.
    """
    row = Row(
        kind="container_weighed",
        container=can.code,
        lot=can.lot,
        value=weighing.gross,
        typed=weighing.gross,
        unit="g",
        person=weighing.person,
    )
    office_log.keep(store, row, at)


def weighings(store: Store, code: str) -> list[KeptWeighing]:
    """Every weighing of a can, the oldest first; struck ones, too.

    :param code: of the can.
    """
    of_can = (rows.c.kind == "container_weighed") & (rows.c.container == code)
    query = select(rows).where(of_can | (rows.c.kind == "voided")).order_by(rows.c.recorded_at)
    with store.read() as connection:
        found = [row_of(one) for one in connection.execute(query).mappings()]
    strikes = {row.refers_to: row for row in found if row.kind == "voided"}
    return [KeptWeighing(row, strikes.get(row.event_id)) for row in found if row.kind != "voided"]


def strike(store: Store, can: Container, checked: CheckedStrike, at: str) -> None:
    """Strike a weighing: the row stays, and the balance goes on without it.

    :param checked: without problems.
    :param at: now, RFC 3339, UTC.
    """
    row = Row(
        kind="voided",
        container=can.code,
        refers_to=checked.weighing,
        note=checked.reason,
        person=checked.person,
    )
    office_log.keep(store, row, at)
