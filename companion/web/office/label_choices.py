"""What labels can be made for: cups nobody has started yet, and cans."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from ...paper.labels import Label, container_label, cup_label
from ...records import catalogue, labels, plans, trace
from ...records.store import Store
from ...trade.cards import Container, Lot
from . import label_words
from .context import LabelChoice
from .figures import day_and_time
from .shop import open_shop


@dataclass(frozen=True, slots=True)
class Choosable:
    """Labels by code, what each is for in words, and when it was made last."""

    labels: Mapping[str, Label]
    texts: Mapping[str, str]
    made: Mapping[str, str]

    @property
    def unmade(self) -> tuple[str, ...]:
        """Codes whose label was never made."""
        return tuple(code for code in self.labels if code not in self.made)

    def choices(self, chosen: Collection[str]) -> tuple[LabelChoice, ...]:
        """Every label as a line to tick."""
        return tuple(
            LabelChoice(code, text, day_and_time(self.made.get(code, "")), code in chosen)
            for code, text in self.texts.items()
        )


def cups_to_label(store: Store) -> Choosable:
    """Planned cups that were not started."""
    shop, started, words = open_shop(store), trace.started_codes(store), label_words.words()
    waiting = [plan for plan in plans.every(store) if plan.code not in started]
    return Choosable(
        {
            plan.code: cup_label(
                plan.code,
                shop.systems.get(plan.system),
                plan.total,
                (shop.part(plan.job), plan.step),
                words,
            )
            for plan in waiting
        },
        {plan.code: label_words.cup(plan, shop) for plan in waiting},
        labels.printed(store),
    )


def cans_to_label(store: Store) -> Choosable:
    """Every can, the newest revision of its card."""
    expires_on = {lot.code: lot.expires_on for lot in catalogue.latest(store, Lot)}
    cans, words = catalogue.latest(store, Container), label_words.words()
    return Choosable(
        {can.code: container_label(can, expires_on.get(can.lot, ""), words) for can in cans},
        {can.code: label_words.can(can) for can in cans},
        labels.printed(store),
    )
