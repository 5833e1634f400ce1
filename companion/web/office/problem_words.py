"""Problems in words: of a page, of a file that was brought, of a field of the plan form."""

from collections.abc import Mapping
from typing import Any

from ...errors import Malformed, NotKnown, OutOfRange, Taken
from ...paper.sheet import FieldProblem
from ...trade.order_problem import OrderProblem
from ...trade.serials import LONGEST_SERIAL
from .figures import figure
from .phrases import _

_LONGEST_SHOWN = 40


def heading(problem: Mapping[str, Any]) -> str:
    """Heading of an error page."""
    kind_of = str(problem["title"]).replace(" ", "_")
    return {
        "not_found": _("There is no such page"),
        "not_known": _("Not known here"),
        "out_of_range": _("This cannot be taken"),
        "too_large": _("This is too large"),
        "host": _("This address is not served"),
        "origin": _("The request came from another page"),
        "too_often": _("Too many tries"),
        "not_logged_in": _("The session has ended"),
        "form_of_another_session": _("The form is of another session"),
        "this_machine_only": _("This server answers its own machine only"),
        "not_tls": _("This server is asked through TLS only"),
        "records_not_writable": _("The records cannot be written just now"),
        "unforeseen": _("Something went wrong that nobody foresaw"),
    }.get(kind_of) or _("The request was refused")


def explanation(problem: Mapping[str, Any]) -> str:
    """What an error means, and what to do."""
    kind_of = str(problem["title"]).replace(" ", "_")
    return {
        "not_found": _("The address may be mistyped, or the page has moved."),
        "not_known": _(
            "Nothing of this name is on record here. If it was made on a phone, its rows "
            "may not have arrived yet."
        ),
        "origin": _(
            "Only pages of this program may change records. Open the page again from here."
        ),
        "too_often": _("Nothing was changed. Wait as long as said below, then try again."),
        "not_logged_in": _(
            "Nothing was changed. Go back, copy what you typed, come in again, and send it anew."
        ),
        "form_of_another_session": _(
            "Nothing was changed. Load the page anew before you send its form; perhaps you came in "
            "again meanwhile."
        ),
        "this_machine_only": _(
            "A network is served with “companion serve --lan”, or behind a proxy that was named to "
            "the program."
        ),
        "not_tls": _("The address of this shop begins with https://."),
        "records_not_writable": _(
            "The disk may be full, read-only or busy. Nothing was changed. Try again in half a "
            "minute; phones keep their rows."
        ),
        "unforeseen": _(
            "Nothing more is known to this page. The output of the program repeats the incident "
            "number below."
        ),
    }.get(kind_of) or _("Nothing was changed.")


def file_problem(error: Malformed) -> str:
    """Why a file cannot be read as a log."""
    where, allowed = error.where, error.allowed
    return {
        "header_missing": _("The file is empty. A log starts with a row of column names."),
        "not_utf8": _("The file is not UTF-8 text (%(where)s).", where=where),
        "nul": _("The file holds a NUL character (%(where)s); text has none.", where=where),
        "not_csv": _("The file is not CSV (%(where)s). Allowed is RFC 4180.", where=where),
        "column_doubled": _("%(where)s stands in the header twice. Once is allowed.", where=where),
        "column_missing": _(
            "%(where)s is missing. The columns of a log are: %(columns)s.",
            where=where,
            columns=allowed,
        ),
    }.get(error.problem) or str(error)


def field_problem(problem: OrderProblem) -> str:
    """What is wrong with one field of the plan form: the field, the value, what is allowed."""
    return _of_figure(problem) or _of_total(problem) or _of_other(problem) or problem.problem


def shown(problem: OrderProblem) -> str:
    """What was given, shortened."""
    return _short(figure(problem.value))


def _short(value: str) -> str:
    return value if len(value) <= _LONGEST_SHOWN else value[:_LONGEST_SHOWN] + "…"


def _field(problem: OrderProblem) -> str:
    return {"total": _("Total"), "cup_mass": _("Mass of this empty cup")}.get(problem.field, "")


def _of_figure(problem: OrderProblem) -> str:
    words = {"field": _field(problem), "typed": shown(problem)}
    return {
        "empty": _("%(field)s is empty. A mass in grams is needed.", **words),
        "separators": _(
            "%(field)s: “%(typed)s” has two marks. Type one decimal mark and no thousands mark.",
            **words,
        ),
        "negative": _("%(field)s: “%(typed)s” is below zero. More than 0 g is needed.", **words),
        "zero": _("%(field)s: “%(typed)s” g. More than 0 g is needed.", **words),
        "long": _(
            "%(field)s: “%(typed)s” has too many digits. Seven before the decimal mark and six "
            "after it are allowed.",
            **words,
        ),
        "character": _(
            "%(field)s: “%(typed)s” is not a figure. Digits and one decimal mark are allowed.",
            **words,
        ),
    }.get(problem.problem, "")


def _of_total(problem: OrderProblem) -> str:
    words = {
        "total": shown(problem),
        "limit": figure(problem.limit),
        "owner": problem.owner,
    }
    return {
        "over_largest": _(
            "Total: %(total)s g is more than the largest cup of %(owner)s, %(limit)s g. "
            "Plan several smaller cups.",
            **words,
        ),
        "over_volume": _(
            "Total: %(total)s g is more than cup type %(owner)s holds, %(limit)s g.", **words
        ),
        "over_scale": _(
            "Total: %(total)s g is more than scale %(owner)s carries beside the empty cup and any "
            "paste. At most %(limit)s g is allowed.",
            **words,
        ),
        "below_smallest": _(
            "Total: %(total)s g is too small for any scale here to judge. The smallest cup "
            "scale %(owner)s can judge is %(limit)s g.",
            **words,
        ),
    }.get(problem.problem, "")


def _of_other(problem: OrderProblem) -> str:
    words = {"given": shown(problem), "limit": figure(problem.limit), "owner": problem.owner}
    if problem.problem == "unknown":
        return _unknown(problem)
    return {
        "count": _(
            "Number of cups: “%(given)s”. A whole number from 1 to %(limit)s is allowed.", **words
        ),
        "too_long": _("Step: the text is longer than %(limit)s characters.", **words),
        "control": _(
            "Step: the text holds a character that cannot be printed. Plain text is allowed."
        ),
        "several": _(
            "Mass of this empty cup: %(given)s g can belong to one cup only. Plan one cup, or "
            "leave the mass out.",
            **words,
        ),
        "heavy": _(
            "Mass of this empty cup: %(given)s g is too heavy for an empty cup. At most "
            "%(limit)s g is allowed.",
            **words,
        ),
        "of_type": _(
            "Mass of this empty cup: %(given)s g cannot be a cup of type %(owner)s, which weighs "
            "%(limit)s g. Half to twice of that is allowed.",
            **words,
        ),
    }.get(problem.problem, "")


def _unknown(problem: OrderProblem) -> str:
    given = shown(problem)
    if problem.field == "system" and not problem.value:
        return _("System: none is chosen. Choose one of the list.")
    return {
        "system": _("System: “%(given)s” is not on the list. Choose one of the list.", given=given),
        "job": _("Job: “%(given)s” is not on the list. Choose one of the list.", given=given),
        "cup_type": _(
            "Cup type: “%(given)s” is not on the list. Choose one of the list.", given=given
        ),
    }[problem.field]


def sheet_problem(problem: FieldProblem) -> str:
    """What is wrong with one field of the label form: the field, the value, what is allowed."""
    words = {
        "field": _label_field(problem.field),
        "given": _short(figure(problem.value)),
        "low": figure(problem.low),
        "high": figure(problem.high),
    }
    return {
        "none": _("Nothing is ticked. Tick at least one."),
        "unknown": _("“%(given)s” is not on the list. Tick codes of the list.", **words),
        "figure": _(
            "%(field)s: “%(given)s” is not a figure. Digits and one decimal mark are allowed.",
            **words,
        ),
        "whole": _("%(field)s: %(given)s. A whole number is needed.", **words),
        "page": _(
            "%(field)s: %(given)s. With these margins no label fits the page. %(low)s to "
            "%(high)s is allowed.",
            **words,
        ),
        "range": _("%(field)s: “%(given)s”. %(low)s to %(high)s is allowed.", **words),
    }[problem.problem]


def plan_problem(given: str) -> str:
    """Why labels cannot be limited to a plan."""
    return _(
        "Plan: no cup of “%(given)s” waits to be weighed. Choose one of the list.",
        given=_short(given),
    )


def part_problem(error: NotKnown | OutOfRange | Taken) -> str:
    """Why a part cannot be entered."""
    given = _short(str(error.value))
    if isinstance(error, NotKnown):
        return _("Job: “%(given)s” is not on the list. Choose one of the list.", given=given)
    if isinstance(error, Taken):
        return _(
            "Serial: “%(given)s” is the serial of part %(code)s. One that no part has yet is "
            "allowed.",
            given=given,
            code=error.holder,
        )
    return _(
        "Serial: “%(given)s”. 1 to %(most)s printable characters are allowed.",
        given=given,
        most=LONGEST_SERIAL,
    )


def _label_field(name: str) -> str:
    return {
        "codes": _("Labels"),
        "count": _("Number of labels"),
        "rows": _("Rows"),
        "columns": _("Columns"),
        "label_width_mm": _("Label width, mm"),
        "label_height_mm": _("Label height, mm"),
        "page_width_mm": _("Page width, mm"),
        "page_height_mm": _("Page height, mm"),
        "left_mm": _("Left margin, mm"),
        "top_mm": _("Top margin, mm"),
        "gap_x_mm": _("Gap between columns, mm"),
        "gap_y_mm": _("Gap between rows, mm"),
        "start": _("First label"),
    }[name]
