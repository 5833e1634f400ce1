"""What to compare with the data sheet once more, in words."""

from ...trade.card_cautions import Caution, cautions, chemistry_pbw
from ...trade.cards import SystemCard
from ...trade.numbers import fixed
from .figures import figure, signed_percent
from .phrases import _


def card_cautions(card: SystemCard) -> tuple[str, ...]:
    """Every caution of a system card."""
    return tuple(_caution(one, card) for one in cautions(card))


def in_short(card: SystemCard) -> str:
    """What to look at, for a line of a list."""
    return " · ".join(
        {
            "equal_figures": _("one figure for the ratio by mass and by volume"),
            "other_than_volumes": _("ratio by mass and by volume do not agree"),
            "other_than_chemistry": _("ratio is far from the computed one"),
        }[one.kind]
        for one in cautions(card)
    )


def chemistry(card: SystemCard) -> str:
    """The ratio that follows from the equivalent weights; empty where one is not on the card."""
    computed_pbw = chemistry_pbw(card)
    return "" if computed_pbw is None else f"100:{_parts(computed_pbw)}"


def ratio(card: SystemCard) -> str:
    """The ratio as a person reads it."""
    return f"100:{_parts(card.part_b_pbw)}"


def _parts(part_b_pbw: float) -> str:
    return figure(fixed(part_b_pbw, 2).rstrip("0").rstrip("."))


def _caution(caution: Caution, card: SystemCard) -> str:
    words = {
        "ratio": ratio(card),
        "computed": f"100:{_parts(caution.computed_pbw)}",
        "off": signed_percent(caution.departure),
    }
    return {
        "equal_figures": _(
            "The ratio by mass and the one by volume are the same figure, %(ratio)s. With these "
            "densities the volumes mean %(computed)s by mass. Look at the data sheet which of the "
            "two it prints.",
            **words,
        ),
        "other_than_volumes": _(
            "The ratio by mass is %(ratio)s, the volumes mean %(computed)s (%(off)s %%). Look at "
            "the data sheet again.",
            **words,
        ),
        "other_than_chemistry": _(
            "The ratio is %(ratio)s; the equivalent weights mean %(computed)s (%(off)s %%). "
            "Formulated hardeners differ, and the ratio of the data sheet wins: make sure that it "
            "was copied rightly.",
            **words,
        ),
    }[caution.kind]
