"""Cans: each gets a code of its own, which stands on its label."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sqlalchemy import select

from ..trade.card_forms.bought import CheckedCanWeighing
from ..trade.cards import Container
from ..trade.rows import Row
from . import catalogue, labels, office_log
from .schema import rows
from .store import Store


def add(store: Store, can: Container, at: str) -> Container:
    """Keep a new can and mint its code: both are kept, or neither.

    :param can: without code and revision.
    :param at: now, RFC 3339, UTC.
    :return: the can as kept.
    """
    with store.write() as connection:
        (code,) = labels.take_codes(connection, 1, "", at)
        kept = replace(can, code=code, revision=1)
        catalogue.put_card(connection, kept, at)
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
    with store.write() as connection:
        office_log.append(connection, [row], at)
