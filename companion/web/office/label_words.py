"""Texts of labels, and of the page they are made on."""

from collections.abc import Mapping, Sequence

from ...paper.asked import BLANK, CONTAINERS, CUPS, PARTS
from ...paper.labels import Words
from ...paper.words import label_words
from ...records.plans import PlannedCup
from ...trade.cards import Container
from .figures import day, day_and_time, figure
from .phrases import _, ngettext
from .shop import Shop
from .step_words import step_words


def words() -> Words:
    """Texts of a label in the reader's language."""
    return label_words(_, figure, day)


def kind(name: str) -> str:
    """What labels are made for."""
    return {
        CUPS: _("Planned cups"),
        BLANK: _("Blank labels"),
        CONTAINERS: _("Containers"),
        PARTS: _("Parts"),
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
    said = (
        shop.part(plan.job),
        step_words(plan.step),
        system.hardener_word if system else "",
        mass,
    )
    return " · ".join(text for text in said if text)


def plan(cups: Sequence[PlannedCup], shop: Shop) -> str:
    """Cups planned in one go, in one line: for what, how many, when (UTC)."""
    steps = list(dict.fromkeys(cup.step for cup in cups if cup.step))
    step = (
        ngettext("%(num)s step", "%(num)s steps", len(steps))
        if len(steps) > 1
        else "".join(map(step_words, steps))
    )
    count = ngettext("%(num)s cup", "%(num)s cups", len(cups))
    at = _("%(time)s (UTC)", time=day_and_time(cups[0].made_at))
    said = (shop.part(cups[0].job), step, count, at)
    return " · ".join(text for text in said if text)


def can(card: Container) -> str:
    """A can in one line."""
    return " · ".join(text for text in (card.material, card.lot) if text)
