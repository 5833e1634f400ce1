"""Marking and translating the texts of the office; typed, which the library is not."""

import flask_babel


def _(message: str, **values: object) -> str:
    """Text of a message in the reader's language, its places filled."""
    return str(flask_babel.gettext(message, **values))


def ngettext(one: str, several: str, count: int, **values: object) -> str:
    """Text of a message that counts something, in the reader's language, its places filled."""
    return str(flask_babel.ngettext(one, several, count, **values))
