"""Marking and translating the texts of the office; typed, which the library is not."""

from flask_babel import gettext
from flask_babel import ngettext as plural


def _(message: str, **values: object) -> str:
    """Text of a message in the reader's language, its places filled."""
    return str(gettext(message, **values))


def ngettext(one: str, many: str, count: int, **values: object) -> str:
    """Text that depends on a count, which also fills ``%(num)s``."""
    return str(plural(one, many, count, **values))
