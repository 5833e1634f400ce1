"""Forms of the cards: from typed text to a card or its problems, and back.

``write`` gives the text of a form; ``read`` of that text gives the same card, so that a form
nobody changed makes no new revision.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ..cards import Lot
from . import bought, goods, scale, system
from .typed import SOURCE, CardProblem, Reader, Span

__all__ = ["FORMS", "SOURCE", "CardProblem", "CheckedCard", "Form", "Known", "read", "write"]


@dataclass(frozen=True, slots=True)
class Known:
    """What a form must know of other cards and of the log.

    :ivar lots: the lots there are, by code.
    :ivar cans: codes of the cans of each lot, by its code.
    :ivar used: codes of the cans that cups have drawn from.
    """

    lots: Mapping[str, Lot] = field(default_factory=dict)
    cans: Mapping[str, Sequence[str]] = field(default_factory=dict)
    used: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class CheckedCard:
    """A card as typed, its revision being the one it was changed from, or its problems."""

    card: Any = None
    problems: tuple[CardProblem, ...] = ()


@dataclass(frozen=True, slots=True)
class Form:
    """Fields of one kind of card, and how they are read and written."""

    fields: tuple[str, ...]
    spans: Mapping[str, Span]
    read: Callable[[Reader, Any, Known], Any]
    write: Callable[[Any], dict[str, str]]


def _plain(reading: Callable[[Reader, Any], Any]) -> Callable[[Reader, Any, Known], Any]:
    """A form that needs to know of no other card."""
    return lambda reader, before, _known: reading(reader, before)


FORMS: Mapping[str, Form] = {
    "system": Form(system.FIELDS, system.SPANS, _plain(system.read_system), system.write_system),
    "cloth": Form(
        goods.CLOTH_FIELDS, goods.CLOTH_SPANS, _plain(goods.read_cloth), goods.write_cloth
    ),
    "release_agent": Form(
        goods.AGENT_FIELDS,
        goods.AGENT_SPANS,
        _plain(goods.read_release_agent),
        goods.write_release_agent,
    ),
    "additive": Form(
        goods.ADDITIVE_FIELDS,
        goods.ADDITIVE_SPANS,
        _plain(goods.read_additive),
        goods.write_additive,
    ),
    "cup_type": Form(
        goods.CUP_FIELDS, goods.CUP_SPANS, _plain(goods.read_cup_type), goods.write_cup_type
    ),
    "lot": Form(
        bought.LOT_FIELDS,
        {},
        lambda reader, before, known: bought.read_lot(reader, before, known.cans),
        bought.write_lot,
    ),
    "container": Form(
        bought.CAN_FIELDS,
        bought.CAN_SPANS,
        lambda reader, before, known: bought.read_container(reader, before, known.lots, known.used),
        bought.write_container,
    ),
    "scale": Form(
        scale.SCALE_FIELDS, scale.SCALE_SPANS, _plain(scale.read_scale), scale.write_scale
    ),
}


def read(kind: str, typed: Mapping[str, str], before: Any, known: Known) -> CheckedCard:
    """Read the form of one kind of card.

    :param kind: a name of ``FORMS``.
    :param typed: text by field; a field that is not there counts as empty.
    :param before: the card it is changed from; None for a new one.
    :return: the card, or every problem at once in the order of the form.
    """
    form = FORMS[kind]
    reader = Reader(typed, form.spans)
    card = form.read(reader, before, known)
    if not reader.found:
        return CheckedCard(card)
    order = {name: place for place, name in enumerate(form.fields)}
    return CheckedCard(
        problems=tuple(sorted(reader.found.values(), key=lambda one: order[one.field]))
    )


def write(kind: str, card: Any) -> dict[str, str]:
    """A card as the text of its form."""
    return FORMS[kind].write(card)
