"""Marking and translating the texts of the office; typed, which the library is not."""

from flask_babel import gettext


def _(message: str, **values: object) -> str:
    """Text of a message in the reader's language, its places filled."""
    return str(gettext(message, **values))
