"""Words of the pages of jobs: fields and what is wrong with them, states, steps."""

from ...trade.form_reading import FieldProblem
from ...trade.job_state import CURING, DEMOULDED, IN_WORK, NO_PLAN, PLANNED, SHIPPED, JobState
from .figures import figure
from .phrases import _
from .step_words import step_words

_LONGEST_SHOWN = 40


def job_field(name: str) -> str:
    """A field of the form in words; one of a row with its number."""
    if name.startswith("plies-"):
        _plies, number, inner = name.split("-", 2)
        return _("Row %(number)s, %(field)s", number=number, field=_ply_field(inner))
    return {
        "code": _("Job"),
        "part": _("Part"),
        "customer": _("Customer"),
        "area_m2": _("Area, m²"),
        "resin_pct": _("Resin by mass, per cent"),
        "system": _("System"),
        "coat_system": _("System of the surface coat"),
        "coat_g_m2": _("Surface coat, g/m²"),
        "coat_tools_g": _("Left in the tools of the coat, g"),
        "additive": _("Paste in the coat"),
        "additive_pct": _("Paste, per cent of part A"),
        "release_agent": _("Release agent"),
        "peel_ply_g_m2": _("Resin in the peel ply, g/m²"),
        "tools_g": _("Left in brush and roller, g"),
        "loss_per_cup_g": _("Left in each cup, g"),
        "fibre_density_g_cm3": _("Density of the fibre, g/cm³"),
        "resin_density_g_cm3": _("Density of the cured resin, g/cm³"),
        "length_m": _("Length of a piece, m"),
        "width_m": _("Width of a piece, m"),
        "cut_margin_m": _("Margin on every side, m"),
        "cups": _("Number of laminate cups"),
        "least_cup_g": _("Smallest cup to mix, g"),
        "plies": _("Ply schedule"),
        "scale": _("Scale"),
        "temperature": _("Temperature of the shop, °C"),
        "day": _("Day"),
        "ship_part": _("Part"),
        "ship_reason": _("Reason for shipping all the same"),
        "strike_part": _("Part"),
        "strike_reason": _("Reason for striking"),
        "overlap": _("Overlap of strips, mm"),
    }.get(name, name)


def _ply_field(name: str) -> str:
    return {
        "cloth": _("cloth"),
        "layers": _("layers"),
        "angle_deg": _("angle, °"),
        "resin_pct": _("resin by mass, per cent"),
        "length_m": _("length, m"),
        "width_m": _("width, m"),
    }.get(name, name)


def short(value: str) -> str:
    """A text that somebody sent, as much of it as a line takes."""
    return value if len(value) <= _LONGEST_SHOWN else value[:_LONGEST_SHOWN] + "…"


def job_problem(problem: FieldProblem) -> str:
    """What is wrong with one field: the field, the value, what is allowed."""
    return _of_figure(problem) or _of_choice(problem) or _of_job(problem)


def _words(problem: FieldProblem) -> dict[str, str]:
    return {
        "field": job_field(problem.field),
        "given": short(figure(problem.value)),
        "low": figure(problem.low),
        "high": figure(problem.high),
        "allowed": problem.allowed,
    }


def _of_figure(problem: FieldProblem) -> str:
    words = _words(problem)
    return {
        "empty": _("%(field)s is empty. %(low)s to %(high)s is allowed.", **words),
        "range": _("%(field)s: “%(given)s”. %(low)s to %(high)s is allowed.", **words),
        "whole": _(
            "%(field)s: “%(given)s”. A whole number from %(low)s to %(high)s is allowed.", **words
        ),
        "separators": _(
            "%(field)s: “%(given)s” has two marks. Type one decimal mark and no thousands mark; "
            "%(low)s to %(high)s is allowed.",
            **words,
        ),
        "long": _(
            "%(field)s: “%(given)s” has too many digits. Six after the decimal mark are allowed, "
            "and %(low)s to %(high)s.",
            **words,
        ),
        "character": _(
            "%(field)s: “%(given)s” is not a figure. Digits and one decimal mark are allowed, "
            "%(low)s to %(high)s.",
            **words,
        ),
    }.get(problem.problem, "")


def _of_choice(problem: FieldProblem) -> str:
    words = _words(problem)
    return {
        "unknown": _(
            "%(field)s: “%(given)s” is not on record. On record are: %(allowed)s.",
            **(words | {"allowed": problem.allowed or _("none")}),
        ),
        "empty_choice": _("%(field)s: none is chosen. Choose one of the list.", **words),
        "text": _(
            "%(field)s: “%(given)s”. %(low)s to %(high)s printable characters are allowed.", **words
        ),
        "day": _(
            "%(field)s: “%(given)s”. A day such as %(high)s is allowed, from %(low)s to %(high)s.",
            **words,
        ),
        "code": _(
            "%(field)s: “%(given)s”. %(low)s to %(high)s letters, digits, - and _ are allowed.",
            **words,
        ),
        "taken": _(
            "%(field)s: “%(given)s” is another job already. A code no job has yet is allowed.",
            **words,
        ),
    }.get(problem.problem, "")


def _of_job(problem: FieldProblem) -> str:
    words = _words(problem)
    return {
        "no_coat": _(
            "%(field)s: “%(given)s” needs a surface coat. Choose its system, or leave this empty.",
            **words,
        ),
        "no_reason": _(
            "%(field)s: something speaks against shipping, see the cautions. Settle it first, or "
            "write why the part goes all the same.",
            **words,
        ),
        "no_additive": _(
            "%(field)s: “%(given)s” needs a paste. Choose one, or leave this empty.", **words
        ),
        "over_cap": _(
            "%(field)s: “%(given)s”. At most %(high)s is allowed by the card of %(allowed)s.",
            **words,
        ),
        "too_many": _(
            "%(field)s: this job takes %(given)s. %(low)s to %(high)s are allowed; plan a smaller "
            "part, or several jobs.",
            **words,
        ),
        "over_largest": _(
            "%(field)s: “%(given)s” leaves no room in the largest cup. Below %(high)s is allowed.",
            **words,
        ),
        "plies": _("%(field)s: %(given)s layers. %(low)s to %(high)s are allowed.", **words),
        "areal_weight": _(
            "%(field)s: it weighs %(given)s g/m² by the file. %(low)s to %(high)s is allowed.",
            **words,
        ),
        "fibre_density": _(
            "%(field)s: its fibre has %(given)s g/cm³ by the file. %(low)s to %(high)s is allowed.",
            **words,
        ),
        "other_weight": _(
            "%(field)s: it weighs %(given)s g/m² by the file and %(high)s by its card, or by "
            "another ply. One weight per cloth is allowed: that of its card.",
            **words,
        ),
        "other_density": _(
            "%(field)s: its fibre has %(given)s g/cm³ by the file and %(high)s by its card, or by "
            "another ply. One density per cloth is allowed: that of its card.",
            **words,
        ),
    }.get(problem.problem) or _(
        "%(field)s: %(given)s cannot be for this job. Allowed is %(allowed)s.", **words
    )


def job_state(state: JobState) -> str:
    """Where a job stands."""
    if state.state == IN_WORK and state.step:
        return _("in work: %(step)s", step=step_words(state.step))
    return {
        NO_PLAN: _("no plan"),
        PLANNED: _("planned"),
        IN_WORK: _("in work"),
        CURING: _("curing"),
        DEMOULDED: _("demoulded"),
        SHIPPED: _("shipped"),
    }[state.state]
