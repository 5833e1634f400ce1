"""Stock in words: what is left, and what a person should look at."""

from collections.abc import Sequence

from ...records.stock import ContainerStock, MaterialStock
from ...trade.numbers import fixed
from ...wire.people_csv import Cell, Figure, Moment
from .context import Fact
from .figures import day_and_time, grams, percent
from .phrases import _


def flag(code: str) -> str:
    """What to look at in the stock of a can."""
    return {
        "share_unknown": _(
            "the can was changed during a pour, so the share of each can is not known; it is "
            "counted to the later one"
        ),
        "readings_missing": _("readings of a cup that drew from it are missing"),
        "unaccounted": _("more than a twentieth of what was opened is unaccounted for"),
        "negative": _("more was drawn or found than was in it"),
        "nearly_empty": _("nearly empty"),
        "empty_mass_missing": _("weighed, but the mass of the empty can is not on record"),
    }.get(code, code)


def can_state(can: ContainerStock) -> str:
    """What to look at: its lot first, then its balance; empty if nothing."""
    return " · ".join([*_lot_state(can), *map(flag, can.stock.flags)])


def _lot_state(can: ContainerStock) -> Sequence[str]:
    quarantined = can.lot is not None and can.lot.quarantined
    said = {
        _("lot expired"): can.expired,
        _("lot in quarantine"): quarantined,
        _("lot not on record"): can.lot is None,
    }
    return [text for text, holds in said.items() if holds]


def mass(mass_g: float | None) -> Cell:
    """A mass for a table, to 0.1 g; empty where it cannot be told."""
    return Figure("" if mass_g is None else fixed(mass_g, 1))


def can_cells(can: ContainerStock) -> tuple[Cell, ...]:
    """One can as a line."""
    card, stock = can.card, can.stock
    return (
        card.material,
        card.lot,
        Moment(card.opened_on),
        mass(card.content_g),
        mass(stock.drawn_g),
        mass(stock.rest_g),
        can_state(can),
    )


def material_cells(one: MaterialStock) -> tuple[Cell, ...]:
    """One material as a line; its masses stay empty where no can of it can be told."""
    is_told = len(one.untold) < len(one.containers)
    return (
        Figure(str(len(one.containers))),
        mass(one.rest_g if is_told else None),
        mass(one.usable_rest_g if is_told else None),
        _material_state(one),
    )


def _material_state(one: MaterialStock) -> str:
    said = []
    if one.untold:
        said.append(_("not counted, for nobody weighed them: %(cans)s", cans=", ".join(one.untold)))
    if one.no_can_g:
        said.append(_("%(mass)s g poured without a can on record", mass=grams(one.no_can_g)))
    return " · ".join(said)


def can_facts(can: ContainerStock) -> tuple[Fact, ...]:
    """The balance of one can."""
    stock = can.stock
    facts = [
        Fact(_("Drawn by cups"), _("%(mass)s g", mass=grams(stock.drawn_g))),
        Fact(_("Left now"), _told(stock.rest_g)),
    ]
    if stock.weighed_g is not None:
        at = day_and_time(stock.weighed_at)
        weighed = _("%(mass)s g, weighed %(time)s", mass=grams(stock.weighed_g), time=at)
        facts.append(Fact(_("Rest found by weighing"), weighed))
    if stock.unaccounted_g is not None and stock.unaccounted is not None:
        text = _(
            "%(mass)s g, %(share)s %% of what was opened",
            mass=grams(stock.unaccounted_g),
            share=percent(stock.unaccounted),
        )
        facts.append(Fact(_("Unaccounted for"), text))
    if can_state(can):
        facts.append(Fact(_("To look at"), can_state(can)))
    return tuple(facts)


def _told(mass_g: float | None) -> str:
    return _("cannot be told") if mass_g is None else _("%(mass)s g", mass=grams(mass_g))
