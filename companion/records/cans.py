"""Cans: each gets a code of its own, which stands on its label."""

from dataclasses import replace

from ..trade.card_forms.bought import CheckedCanWeighing
from ..trade.cards import Container
from ..trade.rows import Row
from . import catalogue, labels, office_log
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
