"""Where things went: from a cup to its lots and cans, from a lot or a can to its cups and parts.

A part leads to the cups that were poured for its job; which cup went into which serial is known
only where one part was made of the job.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import select

from ..errors import NotKnown
from ..trade.cards import Container, Lot
from ..trade.codes import forgive, scanned
from ..trade.rows import voided_ids
from . import catalogue, parts, plans, shipping
from .parts import Part
from .schema import rows
from .shipping import Shipment, StruckShipment
from .store import Store
from .trace import CupStory, stories, stories_under


@dataclass(frozen=True, slots=True)
class LotUsed:
    """A lot that went into a cup, by a row that stands; lot or can may not be on record."""

    component: str
    lot: str
    container: str


@dataclass(frozen=True, slots=True)
class PartSent:
    """A part, and where it went; None while it is here."""

    card: Part
    shipment: Shipment | None


@dataclass(frozen=True, slots=True)
class LotTrace:
    """A lot, its card where there is one, its cans, and the cups that used it.

    :ivar containers: cans that any revision of their card calls of this lot; cups that drew from
        one count, whatever lot their rows name, for nobody may be left out of a recall.
    :ivar moved: those of them that are of another lot now.
    :ivar parts: of the jobs these cups were poured into.
    """

    code: str
    card: Lot | None
    containers: tuple[str, ...]
    cups: tuple[CupStory, ...]
    parts: tuple[PartSent, ...] = ()
    moved: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ContainerTrace:
    """A can, its card where there is one, and the cups that used it."""

    code: str
    card: Container | None
    cups: tuple[CupStory, ...]


@dataclass(frozen=True, slots=True)
class PartTrace:
    """A part, the cups poured for its job, and where it went; None while it is here.

    :ivar struck: shippings of it that were struck, the oldest first.
    """

    card: Part
    cups: tuple[CupStory, ...]
    shipment: Shipment | None = None
    struck: tuple[StruckShipment, ...] = ()


@dataclass(frozen=True, slots=True)
class Trace:
    """What is on record under a code: cups that carried it, and a lot, can or part of that name.

    ``planned`` says that the office planned a cup under it, which no row has started yet.
    """

    code: str
    cups: tuple[CupStory, ...] = ()
    planned: bool = False
    lot: LotTrace | None = None
    container: ContainerTrace | None = None
    part: PartTrace | None = None


def trace(store: Store, typed: str) -> Trace:
    """Everything a code leads to.

    :param typed: code of a cup, a can or a part as it stands on its label, is typed or was scanned;
        or the name of a lot or the serial of a part, letter by letter.
    :raises NotKnown: nothing of this name is on record.
    """
    text = typed.strip()
    code = scanned(text).code or forgive(text).code or text
    found = Trace(
        code=code,
        cups=tuple(stories(store, code)),
        planned=any(plan.code == code for plan in plans.every(store, withdrawn=True)),
        container=_container(store, code),
        lot=_lot(store, text),
        part=_part(store, code, text),
    )
    if found == Trace(code):
        raise NotKnown("code", typed)
    return found


def lots_used(story: CupStory) -> tuple[LotUsed, ...]:
    """Lots and cans of a cup, each once; rows that were struck do not count."""
    struck = voided_ids(story.rows)
    used = (
        LotUsed(row.component, row.lot, row.container)
        for row in story.rows
        if row.kind == "lot_used" and row.event_id not in struck
    )
    return tuple(dict.fromkeys(used))


def _lot(store: Store, code: str) -> LotTrace | None:
    card = next((card for card in catalogue.latest(store, Lot) if card.code == code), None)
    newest = {can.code: can for can in catalogue.latest(store, Container)}
    cans = dict.fromkeys(
        can.code for can in catalogue.every(store, Container) if code and can.lot == code
    )
    labels = [*_labels(store, "lot", code)]
    labels += [label for can in cans for label in _labels(store, "container", can)]
    cups = [
        story
        for story in stories_under(store, list(dict.fromkeys(labels)))
        if any(use.lot == code or use.container in cans for use in lots_used(story))
    ]
    if not (card or cans or cups):
        return None
    return LotTrace(
        code=code,
        card=card,
        containers=tuple(cans),
        cups=_newest_first(cups),
        parts=parts_of(store, cups),
        moved=tuple(can for can in cans if newest[can].lot != code),
    )


def _part(store: Store, code: str, serial: str) -> PartTrace | None:
    card = next(
        (one for one in parts.every(store) if one.code == code or one.serial == serial), None
    )
    if card is None:
        return None
    return PartTrace(
        card,
        cups_of_job(store, card.job),
        shipping.shipments(store).get(card.code),
        tuple(shipping.struck(store, card.code)),
    )


def cups_of_job(store: Store, job: str) -> tuple[CupStory, ...]:
    """Cups that were poured for a job in any of its revisions, the newest first."""
    query = (
        select(rows.c.cup)
        .where(rows.c.kind == "poured", rows.c.job.startswith(job_code(job), autoescape=True))
        .distinct()
    )
    with store.read() as connection:
        labels = list(connection.scalars(query))
    return _newest_first(story for story in stories_under(store, labels) if _went_into(story, job))


def parts_of(store: Store, cups: Iterable[CupStory]) -> tuple[PartSent, ...]:
    """Parts of the jobs that cups were poured into, in the order they were entered."""
    into = {
        job_code(row.job)
        for story in cups
        for row in story.rows
        if row.kind == "poured" and _went_into(story, row.job)
    }
    sent = shipping.shipments(store)
    return tuple(
        PartSent(part, sent.get(part.code))
        for part in parts.every(store)
        if job_code(part.job) in into
    )


def job_code(job: str) -> str:
    """A job stays the same job in its next revision."""
    return job.partition("@")[0]


def _went_into(story: CupStory, job: str) -> bool:
    struck = voided_ids(story.rows)
    return any(
        row.kind == "poured" and job_code(row.job) == job_code(job) and row.event_id not in struck
        for row in story.rows
    )


def _container(store: Store, code: str) -> ContainerTrace | None:
    card = next((can for can in catalogue.latest(store, Container) if can.code == code), None)
    cups = [
        story
        for story in stories_under(store, _labels(store, "container", code))
        if any(use.container == code for use in lots_used(story))
    ]
    return ContainerTrace(code, card, _newest_first(cups)) if card or cups else None


def _labels(store: Store, column: str, code: str) -> list[str]:
    """Labels of rows that name this lot or can."""
    query = select(rows.c.cup).where(rows.c.kind == "lot_used", rows.c[column] == code).distinct()
    with store.read() as connection:
        return list(connection.scalars(query)) if code else []


def _newest_first(cups: Iterable[CupStory]) -> tuple[CupStory, ...]:
    return tuple(sorted(cups, key=lambda story: story.rows[-1].recorded_at, reverse=True))
