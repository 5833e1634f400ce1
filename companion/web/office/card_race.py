"""Two people change one card: the form of the later one, put on top of what the earlier saved.

What the later did not touch is taken over from the newest revision. What they changed stays as
they typed it, but for a quarantine: that stays as the newest has it until it is changed again.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ...trade import card_forms
from ...trade.card_forms.bought import YES
from .figures import figure
from .phrases import _

_QUARANTINE, _WHY = "quarantined", "quarantine_reason"


@dataclass(frozen=True, slots=True)
class Rebased:
    """The form after the newest revision.

    :ivar typed: text by field.
    :ivar notes: what differs from the newest, by field, in words.
    :ivar taken_over: labels of the fields that took what the newest has.
    """

    typed: dict[str, str]
    notes: dict[str, str]
    taken_over: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Versions:
    """One card three times: as the form was opened, as it was typed, as it is on record now."""

    opened: Any
    mine: Any
    newest: Any


def rebase(
    kind: str, cards: Versions, typed: Mapping[str, str], labels: Mapping[str, str]
) -> Rebased:
    """Put a form on top of the newest revision.

    :param typed: text by field, as it was sent.
    :param labels: field -> what it is called, in the order of the page.
    """
    was, mine, now = (
        card_forms.write(kind, card) for card in (cards.opened, cards.mine, cards.newest)
    )
    # Readings that only make a figure are on no card.
    fields = [name for name in labels if name != "code" and name in now]
    taken = [name for name in fields if mine[name] == was[name] != now[name]]
    differ = [name for name in fields if mine[name] not in (was[name], now[name])]
    kept = [*taken, *_quarantine(mine, now)]
    return Rebased(
        typed={**typed, **{name: _written(kind, name, now[name]) for name in kept}},
        notes={
            name: _note(name, labels[name], mine[name], (now[name], cards.newest.revision))
            for name in differ
        },
        taken_over=tuple(labels[name] for name in taken),
    )


def _quarantine(mine: Mapping[str, str], now: Mapping[str, str]) -> list[str]:
    """Fields that stay as the newest has them whatever was typed; no reason is thrown away."""
    if _QUARANTINE not in now or mine[_QUARANTINE] == now[_QUARANTINE]:
        return []
    return [_QUARANTINE, *([_WHY] if now[_QUARANTINE] else [])]


def _written(kind: str, name: str, text: str) -> str:
    return figure(text) if name in card_forms.FORMS[kind].spans else text


def _note(name: str, label: str, mine: str, newest: tuple[str, int]) -> str:
    text, revision = newest
    words = {
        "field": label,
        "number": revision,
        "newest": _shown(name, text),
        "yours": _shown(name, mine),
    }
    if name == _QUARANTINE:
        return _(
            "%(field)s: %(newest)s in revision %(number)s, and it stays so. You had chosen "
            "%(yours)s; choose it again if you mean it.",
            **words,
        )
    return _("%(field)s: %(newest)s in revision %(number)s, you have %(yours)s.", **words)


def _shown(name: str, text: str) -> str:
    if name == _QUARANTINE:
        return _("yes") if text == YES else _("no")
    return f"“{figure(text)}”" if text else _("nothing")
