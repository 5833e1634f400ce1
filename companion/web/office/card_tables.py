"""The lists of the materials page: stock, and the newest revision of every card."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ...errors import NotKnown
from ...records import catalogue, stock
from ...records.store import Store
from ...trade.card_forms.typed import plain
from ...trade.cards import Additive, Cloth, CupType, Lot, ReleaseAgent, SystemCard
from ...wire.people_csv import Cell, Figure, Moment
from . import caution_words, scale_tables, stock_words
from .card_context import CardLine, CardTable
from .card_words import new_words
from .phrases import _

STOCK = "stock"


def tables(store: Store, today: str) -> tuple[CardTable, ...]:
    """Every list, in the order of the page."""
    found = stock.by_material(store, today)
    cans = [can for material in found.values() for can in material.containers]
    return (
        _stock(found),
        _containers(cans),
        _lots(catalogue.latest(store, Lot), today),
        *(_cards(store, kind) for kind in _PLAIN),
    )


def table(store: Store, kind: str, today: str) -> CardTable:
    """One list.

    :raises NotKnown: there is no list of this kind.
    """
    if kind in _OF_SCALES:
        return _OF_SCALES[kind](store)
    for one in tables(store, today):
        if one.kind == kind:
            return one
    raise NotKnown("list", kind)


_OF_SCALES: Mapping[str, Callable[[Store], CardTable]] = {
    scale_tables.SCALES: scale_tables.scales,
    scale_tables.CHECKS: scale_tables.checks,
}


def _stock(found: Mapping[str, stock.MaterialStock]) -> CardTable:
    return CardTable(
        kind=STOCK,
        title=_("Stock"),
        caption=_(
            "Folded from the readings: what cans held when they were opened, or what they weighed "
            "last, less what cups drew. Cans of expired or quarantined lots are not usable."
        ),
        new="",
        headings=(
            _("Material"),
            _("Containers"),
            _("Left, g"),
            _("Usable, g"),
            _("To look at"),
        ),
        lines=tuple(CardLine(name, 0, stock_words.material_cells(m)) for name, m in found.items()),
        look=3,
    )


def _containers(cans: Sequence[stock.ContainerStock]) -> CardTable:
    return CardTable(
        kind="container",
        title=_("Containers"),
        caption=_("Our cans. Each has a code and a label of its own."),
        new=new_words("container"),
        headings=(
            _("Code"),
            _("Material"),
            _("Lot"),
            _("Opened"),
            _("Held when opened, g"),
            _("Drawn, g"),
            _("Left, g"),
            _("To look at"),
        ),
        lines=tuple(
            CardLine(can.card.code, can.card.revision, stock_words.can_cells(can)) for can in cans
        ),
        look=6,
    )


def _lots(lots: Sequence[Lot], today: str) -> CardTable:
    return CardTable(
        kind="lot",
        title=_("Lots"),
        caption=_("What the maker made in one go. A lot is good on its last day."),
        new=new_words("lot"),
        headings=(_("Lot"), _("Material"), _("Expires"), _("To look at")),
        lines=tuple(
            CardLine(
                lot.code,
                lot.revision,
                (lot.material, Moment(lot.expires_on), _lot_state(lot, today)),
            )
            for lot in lots
        ),
        look=2,
    )


def _lot_state(lot: Lot, today: str) -> str:
    said = []
    if lot.expires_on and lot.expires_on < today:
        said.append(_("expired"))
    if lot.quarantined and lot.quarantine_reason:
        said.append(_("in quarantine: %(reason)s", reason=lot.quarantine_reason))
    elif lot.quarantined:
        said.append(_("in quarantine"))
    return " · ".join(said)


def _cards(store: Store, kind: str) -> CardTable:
    card_type, title, headings, cells = _PLAIN[kind]
    return CardTable(
        kind=kind,
        title=title(),
        caption=_("The newest revision of each. Cups keep the revision they were weighed by."),
        new=new_words(kind),
        headings=tuple(headings()),
        lines=tuple(
            CardLine(card.code, card.revision, cells(card))
            for card in catalogue.latest(store, card_type)
        ),
        look=len(headings()) - 2 if kind == "system" else -1,
    )


def _figure(value: float | None) -> Figure:
    return Figure(plain(value))


def _system(card: SystemCard) -> tuple[Cell, ...]:
    return (
        card.resin,
        card.hardener,
        card.hardener_word,
        _figure(card.part_b_pbw),
        _figure(card.tolerance_pct),
        _figure(card.largest_cup_g),
        _figure(card.pot_life.minutes if card.pot_life else None),
        caution_words.in_short(card),
    )


def _cloth(card: Cloth) -> tuple[Cell, ...]:
    figures = (card.areal_weight_g_m2, card.fibre_density_g_cm3, card.usable_width_m)
    return (card.fibre, *map(_figure, figures))


def _release_agent(card: ReleaseAgent) -> tuple[Cell, ...]:
    return tuple(map(_figure, (card.coats, card.between_min, card.last_min, card.too_old_min)))


def _additive(card: Additive) -> tuple[Cell, ...]:
    return (card.description, _figure(card.cap_pct))


def _cup_type(card: CupType) -> tuple[Cell, ...]:
    return (_figure(card.mass_g), _figure(card.volume_ml), card.material)


_PLAIN: Mapping[
    str,
    tuple[
        type[Any],
        Callable[[], str],
        Callable[[], Sequence[str]],
        Callable[[Any], tuple[Cell, ...]],
    ],
] = {
    "system": (
        SystemCard,
        lambda: _("Systems"),
        lambda: (
            _("System"),
            _("Resin"),
            _("Hardener"),
            _("Word"),
            _("B per 100 A"),
            _("Tolerance, %"),
            _("Largest cup, g"),
            _("Pot life, min"),
            _("To look at"),
        ),
        _system,
    ),
    "cloth": (
        Cloth,
        lambda: _("Cloths"),
        lambda: (_("Cloth"), _("Fibre"), _("g/m²"), _("Density, g/cm³"), _("Width, m")),
        _cloth,
    ),
    "release_agent": (
        ReleaseAgent,
        lambda: _("Release agents"),
        lambda: (
            _("Release agent"),
            _("Coats"),
            _("Between coats, min"),
            _("After the last, min"),
            _("Too old after, min"),
        ),
        _release_agent,
    ),
    "additive": (
        Additive,
        lambda: _("Additives"),
        lambda: (_("Additive"), _("What it is"), _("At most, per cent of part A")),
        _additive,
    ),
    "cup_type": (
        CupType,
        lambda: _("Cup types"),
        lambda: (_("Cup type"), _("Empty, g"), _("Volume, ml"), _("Made of")),
        _cup_type,
    ),
}
