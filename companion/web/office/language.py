"""Choosing the language of the pages."""

from urllib.parse import urlsplit

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from ...errors import OutOfRange
from .. import languages

blueprint = Blueprint("language", __name__)

_ONE_YEAR_S = 365 * 24 * 60 * 60
#: Pages that stand behind addresses which only take forms.
_BEHIND = {"/plan": "/plan", "/labels": "/labels", "/import": "/exchange", "/login": "/login"}
_BEHIND |= {"/passphrase": "/passphrase", "/phones/pair": "/phones/pair"}


@blueprint.post("/language")
def choose() -> Response:
    """Remember the language and go back to the page it was chosen on."""
    wanted = request.form.get("language", "")
    if wanted not in languages.languages():
        raise OutOfRange("language", wanted, ", ".join(languages.languages()))
    response = redirect(same_site_path(request.form.get("return_to", "")), 303)
    response.set_cookie(
        languages.COOKIE, wanted, max_age=_ONE_YEAR_S, httponly=True, samesite="Lax", path="/"
    )
    return response


def return_to() -> str:
    """Address of the page being shown, as a language switch on it should come back to."""
    if request.method == "GET":
        return request.full_path.rstrip("?")
    return _BEHIND.get(request.path, "/")


def same_site_path(wanted: str) -> str:
    """A path on this server; anything that could lead elsewhere becomes the start page."""
    parts = urlsplit(wanted)
    plain = wanted.isprintable() and "\\" not in wanted
    if not plain or parts.scheme or parts.netloc or not wanted.startswith("/"):
        return "/"
    return "/" if wanted.startswith("//") else wanted
