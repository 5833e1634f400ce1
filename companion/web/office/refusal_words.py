"""Words for a job whose cups cannot be: why, and the nearest cups that can."""

from ...trade.cup_sizes import NoSuchPlan, Split
from ...trade.errors import OutOfRange
from ...trade.job_form import plain
from ...trade.job_outlook import Outlook
from ...trade.numbers import at_least_g, at_most_g
from ...trade.plan import SURFACE_COAT
from .figures import figure, grams
from .job_context import Refusal
from .job_words import job_field
from .phrases import _, ngettext


def refusal(found: Outlook) -> Refusal | None:
    """Why there is no plan, and the nearest that works."""
    if found.wrong:
        return Refusal(_wrong(found.wrong), "", 0, "", "")
    return _refused(found.refused, found) if found.refused else None


def _wrong(error: OutOfRange) -> str:
    words = {"field": job_field(error.field), "value": figure(str(error.value))}
    return {
        "cups": _(
            "%(field)s: this job takes %(value)s here. 1 to 100 are allowed; plan a smaller part, "
            "or several jobs.",
            **words,
        ),
        "loss_per_cup_g": _(
            "%(field)s: “%(value)s” leaves no room in the largest cup here. Change the job, or "
            "work in a cooler shop.",
            **words,
        ),
    }.get(error.field) or _(
        "%(field)s: %(value)s cannot be for this job. Allowed is %(allowed)s.",
        allowed=error.allowed,
        **words,
    )


def _refused(error: NoSuchPlan, found: Outlook) -> Refusal:
    said = ngettext(
        "%(step)s: %(num)s cup of %(each)s g. On scale %(scale)s a cup may hold %(low)s to "
        "%(high)s g.",
        "%(step)s: %(num)s cups of %(each)s g each. On scale %(scale)s a cup may hold %(low)s to "
        "%(high)s g.",
        error.split.cups,
        step=_("Surface coat") if error.step == SURFACE_COAT else _("Laminate"),
        each=grams(error.split.each_g),
        scale=found.scale.code,
        low=figure(at_least_g(error.limits.smallest_g)),
        high=figure(at_most_g(error.limits.largest_g)),
    )
    if error.nearest is None:
        none = _("No number of cups works here. Weigh on a finer scale.")
        return Refusal(said, none, 0, "", "")
    if error.nearest.surplus_g:
        return _of_smallest(said, error, error.nearest)
    nearest = ngettext(
        "Nearest that works: %(num)s cup of %(each)s g.",
        "Nearest that works: %(num)s cups of %(each)s g each.",
        error.nearest.cups,
        each=grams(error.nearest.each_g),
    )
    if error.step == SURFACE_COAT:
        return Refusal(said, nearest, 0, "", "")
    take = ngettext("Take %(num)s cup", "Take %(num)s cups", error.nearest.cups)
    return Refusal(said, nearest, error.nearest.cups, plain(error.least_cup_g), take)


def _of_smallest(said: str, error: NoSuchPlan, nearest: Split) -> Refusal:
    """The part needs less than the scale can judge: more is mixed, and some is left over."""
    words = {"each": grams(nearest.each_g), "surplus": grams(nearest.surplus_g)}
    offered = ngettext(
        "%(num)s cup of %(each)s g works, the smallest this scale judges; %(surplus)s g are left "
        "over.",
        "%(num)s cups of %(each)s g each work, the smallest this scale judges; %(surplus)s g are "
        "left over.",
        nearest.cups,
        **words,
    )
    take = ngettext(
        "Take %(num)s cup of %(each)s g", "Take %(num)s cups of %(each)s g", nearest.cups, **words
    )
    # As few cups as may be stay so, unless another number was asked for.
    is_asked = error.step != SURFACE_COAT and error.split.cups != nearest.cups
    return Refusal(said, offered, nearest.cups if is_asked else 0, plain(error.least_cup_g), take)
