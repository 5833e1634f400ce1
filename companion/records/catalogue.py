"""What the shop knows: cards by revision, people, and who this server is."""

import dataclasses
import json
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from sqlalchemy import Connection, func, insert, select

from ..errors import NotKnown, Taken
from ..trade.cards import (
    Additive,
    Cloth,
    Container,
    CupType,
    Cure,
    Job,
    Lot,
    PotLife,
    ReleaseAgent,
    ScaleCard,
    SystemCard,
    TackWindow,
    VolumeRatio,
)
from ..trade.job_order import CoatOrder, JobOrder, PlyOrder
from .schema import cards, people, server
from .store import Store

Card = SystemCard | ScaleCard | CupType | Lot | Container | Cloth | ReleaseAgent | Additive | Job
AnyCard = TypeVar(
    "AnyCard", SystemCard, ScaleCard, CupType, Lot, Container, Cloth, ReleaseAgent, Additive, Job
)

CARDS: Mapping[type[Any], str] = {
    SystemCard: "system",
    ScaleCard: "scale",
    CupType: "cup_type",
    Lot: "lot",
    Container: "container",
    Cloth: "cloth",
    ReleaseAgent: "release_agent",
    Additive: "additive",
    Job: "job",
}
#: Fields of a card that are tables of their own in its JSON body.
_INNER: Mapping[str, type[Any]] = {
    "pot_life": PotLife,
    "more_pot_life": PotLife,
    "tack": TackWindow,
    "cure": Cure,
    "by_volume": VolumeRatio,
    "order": JobOrder,
    "plies": PlyOrder,
    "surface_coat": CoatOrder,
}


@dataclass(frozen=True, slots=True)
class ServerIdentity:
    """Who answers: phones believe an acknowledgement only from the server they know."""

    server_id: str
    epoch: str
    demo: bool
    #: log of the office's own.
    log_id: str


def identity(store: Store) -> ServerIdentity:
    """The identity of this server.

    :raises NotKnown: the records were never opened with ``found``.
    """
    with store.read() as connection:
        found = connection.execute(select(server)).first()
    if found is None:
        raise NotKnown("server", "identity")
    return ServerIdentity(*found)


def found(store: Store, *, demo: bool) -> ServerIdentity:
    """Give a new set of records its identity; an existing one keeps its own."""
    with store.write() as connection:
        if connection.execute(select(server)).first() is None:
            connection.execute(
                insert(server).values(
                    server_id=str(uuid.uuid4()),
                    epoch=str(uuid.uuid4()),
                    demo=demo,
                    log_id=str(uuid.uuid4()),
                )
            )
    return identity(store)


def put(store: Store, card: Card, made_at: str) -> None:
    """Keep a card as a revision of its own; an existing revision is never overwritten.

    :raises sqlalchemy.exc.IntegrityError: that revision exists already.
    """
    with store.write() as connection:
        put_card(connection, card, made_at)


def put_card(connection: Connection, card: Card, made_at: str) -> None:
    """Keep a card inside a running transaction."""
    connection.execute(
        insert(cards).values(
            kind=CARDS[type(card)],
            code=card.code,
            revision=card.revision,
            body=json.dumps(dataclasses.asdict(card), ensure_ascii=False, sort_keys=True),
            made_at=made_at,
        )
    )


def revise(store: Store, card: AnyCard, made_at: str) -> AnyCard:
    """Keep a card as the revision after the newest one.

    :param card: its revision is the one it was changed from; 0 for a card that is new.
    :return: the card as kept.
    :raises Taken: somebody else made that revision in the meantime, or the code exists already.
    """
    with store.write() as connection:
        return revise_card(connection, card, made_at)


def revise_card(connection: Connection, card: AnyCard, made_at: str) -> AnyCard:
    """Keep a card as the next revision inside a running transaction; as ``revise``."""
    newest = connection.scalar(
        select(func.coalesce(func.max(cards.c.revision), 0)).where(
            cards.c.kind == CARDS[type(card)], cards.c.code == card.code
        )
    )
    if newest != card.revision:
        raise Taken("code" if card.revision == 0 else "revision", card.code, str(newest))
    kept = dataclasses.replace(card, revision=card.revision + 1)
    put_card(connection, kept, made_at)
    return kept


def every(store: Store, card_type: type[AnyCard]) -> list[AnyCard]:
    """All revisions of one kind of card, by code and revision."""
    query = (
        select(cards.c.body)
        .where(cards.c.kind == CARDS[card_type])
        .order_by(cards.c.code, cards.c.revision)
    )
    with store.read() as connection:
        return [build(card_type, json.loads(body)) for body in connection.scalars(query)]


def latest(store: Store, card_type: type[AnyCard]) -> list[AnyCard]:
    """The newest revision of each card of one kind."""
    newest: dict[str, AnyCard] = {card.code: card for card in every(store, card_type)}
    return list(newest.values())


def named(store: Store, card_type: type[AnyCard], name: str) -> AnyCard:
    """A card by its code, or by code and revision (``RES-L+HRD-S@3``).

    :raises NotKnown: there is no such card.
    """
    code, _, revision = name.partition("@")
    found = [
        card
        for card in every(store, card_type)
        if card.code == code and revision in ("", str(card.revision))
    ]
    if not found:
        raise NotKnown(CARDS[card_type], name)
    return found[-1]


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision of a card, and when it was made (RFC 3339, UTC)."""

    card: Any
    made_at: str


def revisions(store: Store, card_type: type[Any], code: str) -> list[Revision]:
    """Every revision of one card, the oldest first; the code letter by letter.

    :raises NotKnown: there is no such card.
    """
    query = (
        select(cards.c.body, cards.c.made_at)
        .where(cards.c.kind == CARDS[card_type], cards.c.code == code)
        .order_by(cards.c.revision)
    )
    with store.read() as connection:
        found = [
            Revision(build(card_type, json.loads(body)), made_at)
            for body, made_at in connection.execute(query)
        ]
    if not found:
        raise NotKnown(CARDS[card_type], code)
    return found


def build(card_type: type[AnyCard], body: Mapping[str, Any]) -> AnyCard:
    """Make a card from its JSON body; unknown fields of a later version are left out."""
    card: AnyCard = _made(card_type, body)
    return card


def _made(kind: type[Any], body: Mapping[str, Any]) -> Any:
    names = {field.name for field in dataclasses.fields(kind)}
    return kind(**{name: _inner(name, value) for name, value in body.items() if name in names})


def _inner(name: str, value: Any) -> Any:
    if name not in _INNER or value is None:
        return value
    if isinstance(value, Mapping):
        return _made(_INNER[name], value)
    return tuple(_made(_INNER[name], one) for one in value)


def card_of(kind: str, body: Mapping[str, Any]) -> Card:
    """Make a card of a kind given by its name.

    :raises NotKnown: there is no such kind.
    """
    for card_type, name in CARDS.items():
        if name == kind:
            card: Card = build(card_type, body)
            return card
    raise NotKnown("kind of card", kind)


def put_person(connection: Connection, code: str, name: str) -> None:
    """Add a person."""
    connection.execute(insert(people).values(code=code, name=name, erased_at=""))


def all_people(store: Store) -> dict[str, str]:
    """Names by code of everybody whose name was not erased."""
    query = select(people.c.code, people.c.name).where(people.c.erased_at == "")
    with store.read() as connection:
        return {code: name for code, name in connection.execute(query)}


def is_empty(store: Store) -> bool:
    """Whether no card has been entered yet."""
    with store.read() as connection:
        return connection.scalar(select(func.count()).select_from(cards)) == 0
