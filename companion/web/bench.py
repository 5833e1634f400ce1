"""The phone app: its shell, its worker, its words, and the way out when nothing else works."""

import json

from flask import Blueprint, Response, jsonify, render_template
from werkzeug.exceptions import NotFound

from ..config import folder
from ..trade.codes import is_label
from . import assembly, languages
from .state import state

blueprint = Blueprint("bench", __name__)


@blueprint.get(assembly.SHELL)
def shell() -> Response:
    """The one page of the app; also what every later visit is served from the cache."""
    return _page("bench/shell.html")


@blueprint.get(assembly.RESCUE)
def rescue() -> Response:
    """Share the log with no other code of the app."""
    return _page("bench/rescue.html")


def _page(template: str) -> Response:
    response = Response(
        render_template(
            template,
            version=_version(),
            demo=state().identity.demo,
            trust_address=state().config.trust_address,
            names=languages.language_names(),
        )
    )
    response.headers["Cache-Control"] = "no-cache"
    return response


def _version() -> str:
    return assembly.app_version(state().identity.demo, state().config.trust_address)


@blueprint.get("/trusted")
def trusted() -> Response:
    """Nothing, but over TLS: whoever gets it trusts the certificate of this shop.

    The trust page asks from plain HTTP. To a browser that is another site, whatever its name, so
    ``same-site`` would refuse it as well; only here anybody may look, for there is nothing to see.
    """
    response = Response(status=204)
    response.headers["Cross-Origin-Resource-Policy"] = "cross-origin"
    return response


@blueprint.get("/<any(C, L, P):_place>/<code>")
def label(_place: str, code: str) -> str:
    """A label's address, opened by a camera that is not the app's: its code, and nothing else.

    :raises NotFound: not a code of ours; what is on record is not told here.
    """
    if not is_label(code):
        raise NotFound
    return render_template("bench/label.html", code=code, demo=state().identity.demo)


@blueprint.get("/worker.js")
def worker() -> Response:
    """The service worker, with its version and file list filled in."""
    text = (folder("static") / "worker.js").read_text(encoding="utf-8")
    version = _version()
    files = json.dumps(assembly.file_list())
    head = f"const VERSION = {json.dumps(version)};\nconst FILES = {files};\n"
    response = Response(head + text, content_type="text/javascript; charset=utf-8")
    response.headers["Cache-Control"] = "no-cache"
    return response


@blueprint.get("/bench/words/<language>.json")
def words(language: str) -> Response:
    """Every text of the app in one language."""
    if language not in languages.languages():
        raise NotFound
    response = jsonify(languages.words(language))
    response.headers["Cache-Control"] = "no-cache"
    return response


@blueprint.get(assembly.MANIFEST)
def manifest() -> Response:
    """What the phone needs to install the app."""
    icon = "/static/bench/icons/icon-{0}.png"
    response = jsonify(
        id="/bench/",
        name="Scale Companion",
        short_name="Companion",
        start_url="/bench/",
        scope="/",
        display="standalone",
        background_color="#f3efe6",
        theme_color="#f3efe6",
        icons=[
            {"src": icon.format(size), "sizes": f"{size}x{size}", "type": "image/png"}
            for size in (192, 512)
        ],
    )
    response.content_type = "application/manifest+json"
    response.headers["Cache-Control"] = "no-cache"
    return response
