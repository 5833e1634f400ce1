"""What labels can be made for: cups nobody has started yet, cans, and parts."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from ...paper.asked import CONTAINERS, CUPS, PARTS
from ...paper.labels import Label, container_label, cup_label, part_label
from ...records import catalogue, labels, parts, plans
from ...records.store import Store
from ...trade.cards import Container, Lot
from . import label_words
from .context import Choice
from .figures import day_and_time
from .label_context import LabelChoice
from .shop import open_shop
from .step_words import step_words


@dataclass(frozen=True, slots=True)
class Choosable:
    """Labels by code, what each is for in words, and when it was made last."""

    labels: Mapping[str, Label] = field(default_factory=dict)
    texts: Mapping[str, str] = field(default_factory=dict)
    made: Mapping[str, str] = field(default_factory=dict)
    #: plans the cups can be limited to, and the one they are limited to.
    plans: tuple[Choice, ...] = ()
    plan: str = ""

    @property
    def unmade(self) -> tuple[str, ...]:
        """Codes whose label was never made."""
        return tuple(code for code in self.labels if code not in self.made)

    @property
    def plan_is_open(self) -> bool:
        """Whether the plan that was asked for has cups that wait."""
        return not self.plan or any(one.value == self.plan for one in self.plans)

    def choices(self, chosen: Collection[str]) -> tuple[LabelChoice, ...]:
        """Every label as a line to tick."""
        return tuple(
            LabelChoice(code, text, day_and_time(self.made.get(code, "")), code in chosen)
            for code, text in self.texts.items()
        )


def choosable(store: Store, what: str, plan: str) -> Choosable:
    """Labels of one kind that can be made now.

    :param plan: moment of the plan to limit cups to, empty for all.
    """
    if what == CUPS:
        return _cups(store, plan)
    known = {CONTAINERS: _cans, PARTS: _parts}
    return known[what](store) if what in known else Choosable()


def _cups(store: Store, plan: str) -> Choosable:
    """Planned cups that were not started."""
    shop, words, waiting = open_shop(store), label_words.words(), plans.waiting(store)
    listed = [cup for cup in waiting if plan in ("", cup.made_at)]
    return Choosable(
        {
            cup.code: cup_label(
                cup.code,
                shop.systems.get(cup.system),
                cup.total,
                (shop.part(cup.job), step_words(cup.step)),
                words,
                (cup.additive, cup.additive_pct),
            )
            for cup in listed
        },
        {cup.code: label_words.cup(cup, shop) for cup in listed},
        labels.printed(store),
        tuple(
            Choice(at, label_words.plan(cups, shop)) for at, cups in plans.by_plan(waiting).items()
        ),
        plan,
    )


def _cans(store: Store) -> Choosable:
    """Every can, the newest revision of its card."""
    expires_on = {lot.code: lot.expires_on for lot in catalogue.latest(store, Lot)}
    cans, words = catalogue.latest(store, Container), label_words.words()
    return Choosable(
        {can.code: container_label(can, expires_on.get(can.lot, ""), words) for can in cans},
        {can.code: label_words.can(can) for can in cans},
        labels.printed(store),
    )


def _parts(store: Store) -> Choosable:
    """Every part."""
    shop, words, known = open_shop(store), label_words.words(), parts.every(store)
    return Choosable(
        {
            one.code: part_label(one.code, one.serial, one.job, shop.part(one.job), words)
            for one in known
        },
        {one.code: " · ".join((one.serial, shop.part(one.job))) for one in known},
        labels.printed(store),
    )
