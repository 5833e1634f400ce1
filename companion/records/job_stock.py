"""Whether what a plan takes is in the shop: material by material, against the stock."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..trade.cards import SystemCard
from ..trade.job_figures import Need
from ..trade.job_outlook import planned_needs
from . import catalogue, plans, stock
from .stock import MaterialStock
from .store import Store

ENOUGH, NOT_USABLE, SHORT, UNTOLD, NO_LOT = "enough", "not_usable", "short", "untold", "no_lot"


@dataclass(frozen=True, slots=True)
class StockCheck:
    """One material of a plan.

    :ivar state: ``enough`` in usable cans; ``not_usable``: only with lots that are expired or in
        quarantine; ``short``; ``untold``: short, but the rest of some cans nobody can tell;
        ``no_lot``: none on record.
    :ivar elsewhere_g: what cups planned for other jobs and not weighed yet take of it.
    :ivar short_g: what usable cans lack for both.
    :ivar untold: codes of cans whose rest nobody can tell.
    :ivar not_usable: lots that are expired or in quarantine.
    """

    need: Need
    usable_g: float
    state: str
    elsewhere_g: float = 0.0
    short_g: float = 0.0
    untold: tuple[str, ...] = ()
    not_usable: tuple[str, ...] = ()


def check(store: Store, needs: Iterable[Need], job: str, today: str = "") -> tuple[StockCheck, ...]:
    """Every material of a plan against what is left of it.

    :param job: code of the job; what other jobs have planned is spoken for.
    :param today: day to judge expiry by, ISO 8601; empty for the day of this machine (UTC).
    """
    held, elsewhere_g = stock.by_material(store, today), planned_elsewhere_g(store, job)
    return tuple(
        _check(need, held.get(need.material), elsewhere_g.get(need.material, 0.0)) for need in needs
    )


def planned_elsewhere_g(store: Store, job: str) -> Mapping[str, float]:
    """What planned cups of other jobs, or of none, that nobody has started take, by material."""
    cards = {card.name: card for card in catalogue.every(store, SystemCard)}
    found: dict[str, float] = defaultdict(float)
    for cup in plans.waiting(store):
        if cup.job.partition("@")[0] != job and cup.system in cards:
            for need in planned_needs(cards[cup.system], cup.total, cup.additive, cup.additive_pct):
                found[need.material] += need.mass_g
    return found


def _check(need: Need, held: MaterialStock | None, elsewhere_g: float) -> StockCheck:
    wanted_g = need.mass_g + elsewhere_g
    if held is None or not held.containers:
        return StockCheck(need, 0.0, NO_LOT, elsewhere_g, wanted_g)
    lots = (one.lot.code for one in held.containers if one.lot and not one.usable)
    short_g = max(0.0, wanted_g - held.usable_rest_g)
    return StockCheck(
        need=need,
        usable_g=held.usable_rest_g,
        state=_state(wanted_g, held, short_g),
        elsewhere_g=elsewhere_g,
        short_g=short_g,
        untold=held.untold,
        not_usable=tuple(dict.fromkeys(lots)),
    )


def _state(wanted_g: float, held: MaterialStock, short_g: float) -> str:
    if short_g <= 0:
        return ENOUGH
    if held.untold:
        return UNTOLD
    return NOT_USABLE if held.rest_g >= wanted_g else SHORT
