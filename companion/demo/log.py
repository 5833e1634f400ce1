"""The log of the demo workshop, from its cards."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any, TypeVar

from ..records.catalogue import Card
from ..trade.cards import Container, Job, ReleaseAgent, ScaleCard, SystemCard
from .care import air_and_mould, cans, scale_checks
from .drafts import Draft
from .history import Records, drafts_of
from .lay_up import Shop
from .weighing import Bench

AnyCard = TypeVar("AnyCard", Container, Job, ReleaseAgent, ScaleCard, SystemCard)


def drafts_of_log(
    cards: Sequence[tuple[int, Card]], typed_cups: Sequence[Mapping[str, Any]], now: datetime
) -> list[Draft]:
    """Rows of the demo's one phone, in no order yet.

    :param cards: every card, with how many days ago it was made; the finest scale first.
    :param typed_cups: cups whose figures were written by hand.
    """
    made = [card for _, card in cards]
    known = sorted(_only(Container, made), key=lambda can: can.opened_on, reverse=True)
    agents = {agent.code: agent for agent in _only(ReleaseAgent, made)}
    records = Records(
        shop=Shop(Bench(_only(ScaleCard, made)[0], known), {}, agents),
        systems=[(days, card) for days, card in cards if isinstance(card, SystemCard)],
        jobs={job.code: job for job in _only(Job, made)},
        now=now,
    )
    drafts = drafts_of(records, typed_cups)
    return [*drafts, *cans(now, known, drafts), *scale_checks(now), *air_and_mould(now)]


def _only(kind: type[AnyCard], made: Sequence[Card]) -> list[AnyCard]:
    return [card for card in made if isinstance(card, kind)]
