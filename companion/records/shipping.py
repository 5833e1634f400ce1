"""Parts that left the shop: rows of the office's log, struck by a later row where wrong."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, select

from ..errors import NotKnown, Taken
from ..trade.rows import Row
from . import office_log, parts
from .log import row_of
from .schema import rows
from .store import Store

#: Longest reason; a row may hold 1000 characters a field.
LONGEST_REASON = 500


@dataclass(frozen=True, slots=True)
class Shipment:
    """One part that left the shop.

    :ivar part: its code.
    :ivar customer: code of the customer.
    :ivar day: ISO 8601.
    :ivar reason: why it was shipped in spite of cautions; empty where there were none.
    """

    part: str
    customer: str
    day: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class StruckShipment:
    """A shipping that was struck, when (RFC 3339, UTC) and why."""

    shipment: Shipment
    at: str
    reason: str


def ship(store: Store, sent: Shipment, at: str) -> None:
    """Record that a part went to a customer, as a row in the log of the office.

    :raises NotKnown: there is no such part.
    :raises Taken: it was shipped already.
    """
    card = parts.find(store, sent.part)
    draft = Row(
        kind="shipped",
        job=card.job,
        component=sent.part,
        value=sent.customer,
        typed=sent.day,
        note=sent.reason,
    )
    with store.write() as connection:
        # Looked at where nobody else can write: two people at two desks ship a part once.
        held = _standing(_rows(connection)).get(sent.part)
        if held:
            raise Taken("part", sent.part, held.value)
        office_log.append(connection, [draft], at)


def strike(store: Store, part: str, reason: str, at: str) -> None:
    """Strike the shipping of a part; both rows stay on record.

    :raises NotKnown: it is not shipped.
    """
    with store.write() as connection:
        held = _standing(_rows(connection)).get(part)
        if held is None:
            raise NotKnown("shipping of part", part)
        draft = Row(
            kind="voided", job=held.job, component=part, refers_to=held.event_id, note=reason
        )
        office_log.append(connection, [draft], at)


def shipments(store: Store) -> Mapping[str, Shipment]:
    """What was shipped, by code of the part; rows that were struck do not count."""
    with store.read() as connection:
        standing = _standing(_rows(connection))
    return {part: _shipment(row) for part, row in standing.items()}


def struck(store: Store, part: str) -> list[StruckShipment]:
    """Shippings of a part that were struck, the oldest first."""
    with store.read() as connection:
        found = _rows(connection)
    strikes = {row.refers_to: row for row in found if row.kind == "voided"}
    sent = [row for row in found if row.kind == "shipped" and row.component == part]
    return [
        StruckShipment(_shipment(row), strike.recorded_at, strike.note)
        for row in sent
        if (strike := strikes.get(row.event_id))
    ]


def _rows(connection: Connection) -> Sequence[Row]:
    query = select(rows).where(rows.c.kind.in_(["shipped", "voided"])).order_by(rows.c.number)
    return [row_of(one) for one in connection.execute(query).mappings()]


def _standing(found: Sequence[Row]) -> dict[str, Row]:
    strikes = {row.refers_to for row in found if row.kind == "voided"}
    return {
        row.component: row for row in found if row.kind == "shipped" and row.event_id not in strikes
    }


def _shipment(row: Row) -> Shipment:
    return Shipment(row.component, row.value, row.typed or row.recorded_at[:10], row.note)
