"""Stock of the shop, folded from cards and readings: per can, and per material."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import select

from ..trade.cards import Container, Lot, SystemCard
from ..trade.numbers import is_wire_number
from ..trade.rows import Row, voided_ids
from ..trade.stock import Can, CanStock, Draw, Weighing, can_stock, draws
from . import catalogue
from .log import row_of
from .schema import rows
from .store import Store
from .trace import CupStory, all_stories


@dataclass(frozen=True, slots=True)
class ContainerStock:
    """One can with its lot and what is left in it.

    :ivar lot: card of its lot; None if that is not on record.
    :ivar expired: whether the lot's last day is over.
    """

    card: Container
    lot: Lot | None
    expired: bool
    stock: CanStock

    @property
    def usable(self) -> bool:
        """Whether its lot is in date and not in quarantine."""
        return not self.expired and not (self.lot and self.lot.quarantined)


@dataclass(frozen=True, slots=True)
class MaterialStock:
    """Stock of one material, grams.

    :ivar rest_g: sum over the cans whose rest can be told.
    :ivar usable_rest_g: the same without cans of expired or quarantined lots.
    :ivar untold: codes of cans whose rest nobody can tell; what is in them is in no sum.
    :ivar no_can_g: what cups took of it without a can on record; it is taken off no can.
    """

    material: str
    rest_g: float
    usable_rest_g: float
    containers: tuple[ContainerStock, ...]
    untold: tuple[str, ...] = ()
    no_can_g: float = 0.0


def by_material(store: Store, today: str = "") -> Mapping[str, MaterialStock]:
    """Stock of every material there is a can of, or that was poured, by its name.

    :param today: day to judge expiry by, ISO 8601; empty for the day of this machine (UTC).
    """
    on = today or datetime.now(UTC).date().isoformat()
    told = all_stories(store)
    cans = catalogue.latest(store, Container)
    drawn = _drawn(told)
    known = {can.code for can in cans}
    found: dict[str, list[ContainerStock]] = defaultdict(list)
    for one in _containers(store, cans, drawn, on):
        found[one.card.material].append(one)
    no_can_g = _without_can_g(drawn, known)
    return {
        material: _material(material, found.get(material, []), no_can_g.get(material, 0.0))
        for material in sorted({*found, *no_can_g})
    }


def _material(
    material: str, containers: Sequence[ContainerStock], no_can_g: float
) -> MaterialStock:
    rests_g = [one.stock.rest_g or 0.0 for one in containers]
    usable_g = [one.stock.rest_g or 0.0 for one in containers if one.usable]
    return MaterialStock(
        material=material,
        rest_g=sum(rests_g),
        usable_rest_g=sum(usable_g),
        containers=tuple(containers),
        untold=tuple(one.card.code for one in containers if one.stock.rest_g is None),
        no_can_g=no_can_g,
    )


def _drawn(told: Iterable[CupStory]) -> list[tuple[str, Draw]]:
    """What every cup drew, with the name of its material."""
    return [
        (_material_of(draw, story.system), draw)
        for story in told
        if story.cup and story.system and story.scale
        for draw in draws(story.rows, story.cup, story.scale.readability_g)
    ]


def _material_of(draw: Draw, system: SystemCard) -> str:
    return {"a": system.resin, "b": system.hardener}.get(draw.component, draw.component)


def _without_can_g(drawn: Iterable[tuple[str, Draw]], known: set[str]) -> dict[str, float]:
    found: dict[str, float] = defaultdict(float)
    for material, draw in drawn:
        if draw.container not in known and draw.net_g:
            found[material] += draw.net_g
    return found


def _containers(
    store: Store, cans: Iterable[Container], drawn: Iterable[tuple[str, Draw]], today: str
) -> Iterable[ContainerStock]:
    lots = {lot.code: lot for lot in catalogue.latest(store, Lot)}
    weighed = _weighings(store)
    from_can: dict[str, list[Draw]] = defaultdict(list)
    for _, draw in drawn:
        from_can[draw.container].append(draw)
    for can in cans:
        lot = lots.get(can.lot)
        yield ContainerStock(
            card=can,
            lot=lot,
            expired=bool(lot and lot.expires_on and lot.expires_on < today),
            stock=can_stock(
                Can(can.content_g, can.empty_g), from_can[can.code], weighed.get(can.code, [])
            ),
        )


def _weighings(store: Store) -> dict[str, list[Weighing]]:
    """Weighings of cans by their code; struck ones count no more."""
    wanted = rows.c.kind.in_(("container_weighed", "voided"))
    with store.read() as connection:
        found = [row_of(one) for one in connection.execute(select(rows).where(wanted)).mappings()]
    return _by_can(found, voided_ids(found))


def _by_can(found: Iterable[Row], struck: frozenset[str]) -> dict[str, list[Weighing]]:
    weighed: dict[str, list[Weighing]] = defaultdict(list)
    for row in found:
        stands = row.kind == "container_weighed" and row.event_id not in struck
        if stands and is_wire_number(row.value):
            weighed[row.container].append(Weighing(row.recorded_at, float(row.value)))
    return weighed
