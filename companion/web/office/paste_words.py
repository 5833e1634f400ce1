"""A planned paste in words, and what is wrong with it."""

from ...trade.cards import Additive
from ...trade.order_problem import OrderProblem
from .figures import figure, grams
from .phrases import _
from .problem_words import shown


def additive_label(card: Additive) -> str:
    """A paste in a select."""
    return _(
        "%(code)s · %(description)s · at most %(cap)s %%",
        code=card.code,
        description=card.description,
        cap=figure(f"{card.cap_pct:g}"),
    )


def planned_paste(code: str, mass_g: float | None) -> str:
    """The paste on top of a planned cup; empty where none is planned."""
    if not code or mass_g is None:
        return ""
    return _("+ %(mass)s g paste %(code)s", mass=grams(mass_g), code=code)


def paste_problem(problem: OrderProblem) -> str:
    """What is wrong with the paste of the plan form; empty where another field is wrong."""
    return _of_share(problem) or _of_room(problem) or _of_choice(problem)


def _of_choice(problem: OrderProblem) -> str:
    if problem.field != "additive":
        return ""
    if problem.problem == "no_paste":
        return _(
            "Paste: none is chosen for “%(share)s” %%. Choose one of the list, or leave the share "
            "empty.",
            share=shown(problem),
        )
    return _("Paste: “%(given)s” is not on the list. Choose one of the list.", given=shown(problem))


def _of_share(problem: OrderProblem) -> str:
    if problem.field != "additive_pct":
        return ""
    if problem.problem == "over_cap":
        return _over_cap(problem)
    typed = shown(problem)
    return {
        "empty": _("Share of the paste is empty. Per cent of part A are needed."),
        "zero": _("Share of the paste: “%(typed)s” %%. More than 0 %% is needed.", typed=typed),
        "negative": _(
            "Share of the paste: “%(typed)s” is below zero. More than 0 %% is needed.", typed=typed
        ),
        "long": _(
            "Share of the paste: “%(typed)s” has too many digits. Seven before the decimal mark "
            "and six after it are allowed.",
            typed=typed,
        ),
    }.get(problem.problem) or _(
        "Share of the paste: “%(typed)s” is not a figure. Digits and one decimal mark are allowed.",
        typed=typed,
    )


def _over_cap(problem: OrderProblem) -> str:
    words = {
        "asked": shown(problem),
        "cap": figure(problem.limit),
        "code": problem.owner,
        "paste": figure(problem.paste),
        "part_a": figure(problem.part_a),
    }
    if not problem.paste:
        return _(
            "Share of the paste: %(asked)s %% asked, at most %(cap)s %% by the card of %(code)s.",
            **words,
        )
    return _(
        "Share of the paste: %(asked)s %% asked, at most %(cap)s %% by the card of %(code)s: "
        "%(paste)s g in %(part_a)s g A.",
        **words,
    )


def _of_room(problem: OrderProblem) -> str:
    words = {
        "total": shown(problem),
        "paste": figure(problem.paste),
        "limit": figure(problem.limit),
        "owner": problem.owner,
    }
    return {
        "over_largest_with_paste": _(
            "Total: %(total)s g and %(paste)s g of paste on top are more than the largest cup of "
            "%(owner)s, %(limit)s g. Plan several smaller cups.",
            **words,
        ),
        "over_volume_with_paste": _(
            "Total: %(total)s g and %(paste)s g of paste on top are more than cup type %(owner)s "
            "holds, %(limit)s g.",
            **words,
        ),
    }.get(problem.problem, "")
