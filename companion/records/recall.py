"""A recall of a lot or a can: what it is in, what cannot be excluded, and what is proven clear.

A cup is in doubt where it took the material and no row says which lot, or can, of it. It counts
from the day before the first can was opened or the first cup used it; it has no end, since a rest
may be poured long after the last row that names it.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from ..trade.cards import Container
from . import catalogue
from .lineage import (
    ContainerTrace,
    LotTrace,
    LotUsed,
    PartSent,
    lots_used,
    parts_of,
)
from .store import Store
from .trace import CupStory, all_stories


@dataclass(frozen=True, slots=True)
class Recall:
    """What a recall reaches.

    :ivar parts: of the jobs that cups with it were poured into.
    :ivar doubtful: cups that cannot be excluded, the oldest first.
    :ivar doubtful_parts: of the jobs these were poured into, where not in ``parts``.
    :ivar clear: parts that have cups, every one of which names another lot or took none of it.
    :ivar since: first day a cup is in doubt for, ISO 8601; empty where none is known.
    """

    parts: tuple[PartSent, ...]
    doubtful: tuple[CupStory, ...]
    doubtful_parts: tuple[PartSent, ...]
    clear: tuple[PartSent, ...]
    since: str


@dataclass(frozen=True, slots=True)
class _Suspect:
    """What is recalled: a lot, or one can of its lots."""

    is_can: bool
    lots: frozenset[str]
    cans: frozenset[str]
    materials: frozenset[str]
    since: str

    def excludes(self, use: LotUsed, lots_of_can: Mapping[str, set[str]]) -> bool:
        """Whether a row proves that something else was taken."""
        if self.is_can:
            return bool(use.container) or (use.lot != "" and use.lot not in self.lots)
        return bool(use.lot) or any(lots_of_can.get(use.container, ()))


def of_lot(store: Store, lot: LotTrace) -> Recall:
    """What a recall of a lot reaches."""
    cans = _cans(store, lot.containers)
    known = {lot.card.material} if lot.card else set()
    materials = known | {can.material for can in cans}
    uses = [
        (story, use)
        for story in lot.cups
        for use in lots_used(story)
        if use.lot == lot.code or use.container in lot.containers
    ]
    suspect = _Suspect(
        is_can=False,
        lots=frozenset({lot.code}),
        cans=frozenset(lot.containers),
        materials=frozenset(materials or _taken(uses)),
        since=_since(cans, lot.cups),
    )
    return _recall(store, suspect, lot.cups)


def of_can(store: Store, can: ContainerTrace) -> Recall:
    """What a recall of one can reaches."""
    cans = _cans(store, [can.code])
    uses = [
        (story, use) for story in can.cups for use in lots_used(story) if use.container == can.code
    ]
    lots = {one.lot for one in cans} | {use.lot for _, use in uses}
    suspect = _Suspect(
        is_can=True,
        lots=frozenset(lots - {""}),
        cans=frozenset({can.code}),
        materials=frozenset({one.material for one in cans} or _taken(uses)),
        since=_since(cans, can.cups),
    )
    return _recall(store, suspect, can.cups)


def _recall(store: Store, suspect: _Suspect, affected: Iterable[CupStory]) -> Recall:
    lots_of_can: dict[str, set[str]] = defaultdict(set)
    for can in catalogue.every(store, Container):
        lots_of_can[can.code].add(can.lot)
    told, reached = all_stories(store), {story.id for story in affected}
    doubtful = tuple(
        story
        for story in told
        if story.id not in reached and _is_doubtful(story, suspect, lots_of_can)
    )
    parts = parts_of(store, [story for story in told if story.id in reached])
    in_doubt = tuple(one for one in parts_of(store, doubtful) if one not in parts)
    return Recall(
        parts=parts,
        doubtful=doubtful,
        doubtful_parts=in_doubt,
        clear=tuple(one for one in parts_of(store, told) if one not in (*parts, *in_doubt)),
        since=suspect.since,
    )


def _is_doubtful(story: CupStory, suspect: _Suspect, lots_of_can: Mapping[str, set[str]]) -> bool:
    if story.rows[0].recorded_at[:10] < suspect.since:
        return False
    used = lots_used(story)
    return any(
        not uses or not all(suspect.excludes(use, lots_of_can) for use in uses)
        for component in _components(story, suspect.materials)
        for uses in [[use for use in used if use.component == component]]
    )


def _components(story: CupStory, materials: frozenset[str]) -> list[str]:
    """Components of a cup that may be of the material; both where its cards are not here."""
    if story.system is None or story.cup is None:
        return ["a", "b"]
    # Where readings are missing, either part may have been poured.
    missing = ["a", "b"] if story.cup.unknown else []
    poured = dict.fromkeys([*missing, *(pour.component for pour in story.cup.pours)])
    return [one for one in poured if _material(one, story) in materials]


def _material(component: str, story: CupStory) -> str:
    system = story.system
    if system is None:
        return ""
    return {"a": system.resin, "b": system.hardener}.get(component, component)


def _taken(uses: Iterable[tuple[CupStory, LotUsed]]) -> set[str]:
    """Materials by what cups took it for, where no card tells."""
    return {_material(use.component, story) for story, use in uses} - {""}


def _cans(store: Store, codes: Iterable[str]) -> list[Container]:
    wanted = set(codes)
    return [can for can in catalogue.every(store, Container) if can.code in wanted]


def _since(cans: Iterable[Container], cups: Iterable[CupStory]) -> str:
    days = [can.opened_on for can in cans if can.opened_on]
    days += [story.rows[0].recorded_at[:10] for story in cups]
    # The day of a can is local, the log counts in UTC.
    return (date.fromisoformat(min(days)) - timedelta(days=1)).isoformat() if days else ""
