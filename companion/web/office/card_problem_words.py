"""What is wrong with a field of a card's form: the field, the value, and what is allowed."""

from ...errors import Taken
from ...trade.card_forms import CardProblem
from .figures import figure
from .phrases import _

_LONGEST_SHOWN = 40


def card_problem(problem: CardProblem, label: str) -> str:
    """One problem in words.

    :param label: what the field is called.
    """
    words = {
        "field": label,
        "typed": _short(figure(problem.value)),
        "given": _short(figure(problem.value)),
        "low": figure(problem.low),
        "high": figure(problem.high),
    }
    return _of_figure(problem.problem, words) or _of_text(problem.problem, words)


def _short(value: str) -> str:
    return value if len(value) <= _LONGEST_SHOWN else value[:_LONGEST_SHOWN] + "…"


def _of_figure(problem: str, words: dict[str, str]) -> str:
    return {
        "separators": _(
            "%(field)s: “%(typed)s” has two marks. Type one decimal mark and no thousands mark.",
            **words,
        ),
        "negative": _("%(field)s: “%(given)s”. %(low)s to %(high)s is allowed.", **words),
        "range": _("%(field)s: “%(given)s”. %(low)s to %(high)s is allowed.", **words),
        "long": _(
            "%(field)s: “%(typed)s” has too many digits. Seven before the decimal mark and six "
            "after it are allowed.",
            **words,
        ),
        "character": _(
            "%(field)s: “%(typed)s” is not a figure. Digits and one decimal mark are allowed.",
            **words,
        ),
        "whole": _("%(field)s: %(given)s. A whole number is needed.", **words),
        "not_after": _("%(field)s: “%(given)s”. More than %(low)s is needed.", **words),
        "above": _("%(field)s: “%(given)s”. At most %(high)s is allowed.", **words),
        "ten_fold": _(
            "%(field)s: “%(given)s”. Content and can weigh at most %(high)s g by the card. Is it "
            "%(low)s g? Look at the display again; if the card is wrong, change it first.",
            **words,
        ),
        "decimals": _(
            "%(field)s: “%(given)s”. Scale %(high)s counts in steps of %(low)s g; type the figure "
            "with all its decimals, or choose the other scale.",
            **words,
        ),
        "not_before": _("%(field)s: “%(given)s”. At least %(low)s is needed.", **words),
        "warmer_longer": _(
            "%(field)s: “%(given)s”. At %(high)s °C it is %(low)s min, and a warmer mix sets "
            "sooner. Look at the sheet again.",
            **words,
        ),
        "same_temperature": _(
            "%(field)s: “%(given)s”. There is a pot life for %(low)s °C already; another "
            "temperature is needed.",
            **words,
        ),
    }.get(problem, "")


def _of_text(problem: str, words: dict[str, str]) -> str:
    return {
        "empty": _("%(field)s is empty. It is needed.", **words),
        "belongs_together": _(
            "%(field)s is empty. The figures beside it count only together with it: give all of "
            "them, or none.",
            **words,
        ),
        "first_point_needed": _(
            "%(field)s is empty. It comes before the pot life at further temperatures.", **words
        ),
        "ratio_needed": _(
            "%(field)s is empty. Give the ratio by mass, or by volume with both densities.", **words
        ),
        "density_needed": _(
            "%(field)s is empty. Without both densities a ratio by volume says nothing of masses.",
            **words,
        ),
        "too_long": _("%(field)s: at most %(high)s characters are allowed.", **words),
        "control": _(
            "%(field)s holds a character that cannot be seen. Plain text is allowed.", **words
        ),
        "revision_mark": _(
            "%(field)s: “%(given)s” holds an @, which stands before a revision. Any other "
            "character is allowed.",
            **words,
        ),
        "reserved": _(
            "%(field)s: “%(given)s” means something else in the log. Another name is needed.",
            **words,
        ),
        "day": _("%(field)s: “%(given)s” is no day. A day such as 2026-03-07 is allowed.", **words),
        "unknown": _("%(field)s: “%(given)s” is not on the list. Choose one of the list.", **words),
        "of_lot": _(
            "%(field)s: “%(given)s”. Lot %(high)s is of %(low)s; its cans hold the same.", **words
        ),
        "of_cans": _(
            "%(field)s: “%(given)s”. Cans of this lot are on record as %(low)s: %(high)s. Give "
            "them another lot first, or none, then change it.",
            **words,
        ),
        "lot_of_used": _(
            "%(field)s: cups have drawn from %(high)s. Write why its lot is another one now.",
            **words,
        ),
        "no_quarantine": _(
            "%(field)s: “%(given)s”. A reason is kept only while the lot is in quarantine.", **words
        ),
    }.get(problem, problem)


def taken(error: Taken) -> str:
    """Why a card could not be kept as it is."""
    words = {"given": _short(str(error.value)), "holder": error.holder}
    if error.field == "revision":
        return _(
            "Somebody else saved revision %(holder)s of %(given)s meanwhile. Nothing of what you "
            "typed is lost: look at that revision, then save again to put yours after it.",
            **words,
        )
    return _("“%(given)s” is on record already. A name nothing has yet is allowed.", **words)
