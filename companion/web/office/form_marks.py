"""The mark of a form that mints codes: drawn when it is opened, and sent with its content."""

from flask import request

from ...records.tokens import new_token

_FIELD = "mark"


def new_mark() -> str:
    """A mark for a form that is opened; nothing is kept of it until the form is sent."""
    return new_token()


def sent_mark() -> str:
    """Mark and content of the form that was sent; empty where it bears no mark.

    Who goes back and changes something sends another form, which is a wish of its own.
    """
    if not request.form.get(_FIELD):
        return ""
    fields = sorted((name, text) for name, text in request.form.items() if name != "csrf")
    return "\n".join(f"{name}={text}" for name, text in fields)
