"""Whether what a plan takes is in the shop: material by material, against the stock."""

from collections.abc import Iterable
from dataclasses import dataclass

from ..trade.job_figures import Need
from . import stock
from .stock import MaterialStock
from .store import Store

ENOUGH, NOT_USABLE, SHORT, UNTOLD, NO_LOT = "enough", "not_usable", "short", "untold", "no_lot"


@dataclass(frozen=True, slots=True)
class StockCheck:
    """One material of a plan.

    :ivar state: ``enough`` in usable cans; ``not_usable``: only with lots that are expired or in
        quarantine; ``short``; ``untold``: short, but the rest of some cans nobody can tell;
        ``no_lot``: none on record.
    :ivar short_g: what usable cans lack.
    :ivar untold: codes of cans whose rest nobody can tell.
    :ivar not_usable: lots that are expired or in quarantine.
    """

    need: Need
    usable_g: float
    state: str
    short_g: float = 0.0
    untold: tuple[str, ...] = ()
    not_usable: tuple[str, ...] = ()


def check(store: Store, needs: Iterable[Need], today: str = "") -> tuple[StockCheck, ...]:
    """Every material of a plan against what is left of it.

    :param today: day to judge expiry by, ISO 8601; empty for the day of this machine (UTC).
    """
    held = stock.by_material(store, today)
    return tuple(_check(need, held.get(need.material)) for need in needs)


def _check(need: Need, held: MaterialStock | None) -> StockCheck:
    if held is None or not held.containers:
        return StockCheck(need, 0.0, NO_LOT, need.mass_g)
    lots = (one.lot.code for one in held.containers if one.lot and not one.usable)
    short_g = max(0.0, need.mass_g - held.usable_rest_g)
    return StockCheck(
        need=need,
        usable_g=held.usable_rest_g,
        state=_state(need, held, short_g),
        short_g=short_g,
        untold=held.untold,
        not_usable=tuple(dict.fromkeys(lots)),
    )


def _state(need: Need, held: MaterialStock, short_g: float) -> str:
    if short_g <= 0:
        return ENOUGH
    if held.untold:
        return UNTOLD
    return NOT_USABLE if held.rest_g >= need.mass_g else SHORT
