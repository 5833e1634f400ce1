"""Words for a job file that cannot be read: where, what stands there, what is allowed."""

from ...wire.job_file import WrongFile
from .figures import figure
from .job_words import short
from .phrases import _


def wrong_file(error: WrongFile) -> str:
    """What is wrong with a file; fields by the names they have in it."""
    words = {"field": short(error.field), "allowed": _allowed(error)}
    if error.rule in ("json", "toml"):
        return _unreadable(error)
    if error.rule == "needed":
        return _("The file: %(field)s is missing; this field is needed.", **words)
    if error.rule == "once":
        return _("The file: %(field)s stands there twice; each field is allowed once.", **words)
    words["value"] = short(figure(str(error.value)))
    if error.field == "file":
        return _("The file is %(value)s; allowed is %(allowed)s.", **words)
    return _("The file: %(field)s is %(value)s; allowed is %(allowed)s.", **words)


def _unreadable(error: WrongFile) -> str:
    if error.place is None:
        return _("The file cannot be read; allowed is %(allowed)s.", allowed=_allowed(error))
    line, column = error.place
    return _(
        "The file cannot be read from line %(line)s, column %(column)s on; allowed is %(allowed)s.",
        line=line,
        column=column,
        allowed=_allowed(error),
    )


def _allowed(error: WrongFile) -> str:
    return {
        "size": _("at most %(limit)s bytes", limit=error.limit),
        "json": _("JSON, UTF-8"),
        "toml": _("TOML, UTF-8"),
        "table": _("a list of fields with names"),
        "list": _("a list of plies"),
        "text": _("a text of at most %(limit)s characters", limit=error.limit),
        "number": _("a number"),
        "whole": _("a whole number"),
    }.get(error.rule, error.limit)
