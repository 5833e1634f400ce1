"""Kinds of cards that have a form, as they stand in addresses."""

from collections.abc import Mapping
from typing import Any

from ...errors import NotKnown
from ...records import catalogue
from ...records.store import Store
from ...trade.card_forms import FORMS
from ...trade.cards import Additive, Cloth, Lot, ReleaseAgent, SystemCard
from .context import Choice
from .figures import day
from .phrases import _

CARD_TYPES: Mapping[str, type[Any]] = {
    name: card_type for card_type, name in catalogue.CARDS.items() if name in FORMS
}


def card_type_of(kind: str) -> type[Any]:
    """Type of the cards of one kind.

    :raises NotKnown: no card of this kind has a form.
    """
    if kind not in CARD_TYPES:
        raise NotKnown("kind of card", kind)
    return CARD_TYPES[kind]


def choices(store: Store, kind: str, name: str) -> tuple[Choice, ...]:
    """What can be chosen in a field, or is suggested for it."""
    if (kind, name) == ("container", "lot"):
        return tuple(Choice(lot.code, _lot_label(lot)) for lot in catalogue.latest(store, Lot))
    systems = catalogue.latest(store, SystemCard)
    suggested = {
        "resin": [card.resin for card in systems],
        "hardener": [card.hardener for card in systems],
        "material": _materials(store) if kind in ("lot", "container") else [],
    }.get(name, [])
    return tuple(Choice(text, text) for text in dict.fromkeys(suggested))


def _lot_label(lot: Lot) -> str:
    if not lot.expires_on:
        return f"{lot.code} · {lot.material}"
    return _(
        "%(lot)s · %(material)s · expires %(day)s",
        lot=lot.code,
        material=lot.material,
        day=day(lot.expires_on),
    )


def _materials(store: Store) -> list[str]:
    """Everything a lot can be of."""
    systems = catalogue.latest(store, SystemCard)
    parts = [name for card in systems for name in (card.resin, card.hardener)]
    others: tuple[type[Any], ...] = (Cloth, ReleaseAgent, Additive)
    return [*parts, *(card.code for kind in others for card in catalogue.latest(store, kind))]
