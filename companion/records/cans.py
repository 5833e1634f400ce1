"""Cans: each gets a code of its own, which stands on its label."""

from dataclasses import replace

from ..trade.cards import Container
from . import catalogue, labels
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
