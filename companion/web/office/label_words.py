"""Texts of labels, and of the page they are made on."""

from collections.abc import Mapping

from ...paper.asked import BLANK, CONTAINERS, CUPS
from ...paper.labels import Words
from ...records.plans import PlannedCup
from ...trade.cards import Container
from .figures import day, figure
from .phrases import _
from .shop import Shop


def words() -> Words:
    """Texts of a label in the reader's language."""
    return Words(
        target=_("A %(mass)s g"),
        ratio=_("B = %(ratio)s × A poured"),
        cup=_("cup"),
        part_a=_("A"),
        part_b=_("B"),
        stop=_("stop"),
        initials=_("initials"),
        use_by=_("use by"),
        lot=_("Lot %(lot)s"),
        expires=_("Expires %(day)s"),
        opened=_("Opened"),
        figure=figure,
        day=day,
    )


def kind(name: str) -> str:
    """What labels are made for."""
    return {
        CUPS: _("Planned cups"),
        BLANK: _("Blank labels"),
        CONTAINERS: _("Containers"),
    }[name]


def preset(measures: Mapping[str, str], *, single: bool) -> str:
    """A sheet to start from, in words."""
    shown = {name: figure(text) for name, text in measures.items()}
    if single:
        return _("Roll, %(label_width_mm)s × %(label_height_mm)s mm", **shown)
    return _(
        "A4, %(columns)s × %(rows)s labels of %(label_width_mm)s × %(label_height_mm)s mm", **shown
    )


def cup(plan: PlannedCup, shop: Shop) -> str:
    """A planned cup in one line."""
    system = shop.systems.get(plan.system)
    mass = _("%(mass)s g", mass=figure(plan.total))
    said = (shop.part(plan.job), plan.step, system.hardener_word if system else "", mass)
    return " · ".join(text for text in said if text)


def can(card: Container) -> str:
    """A can in one line."""
    return " · ".join(text for text in (card.material, card.lot) if text)
