"""The trust page: how a phone learns to trust the shop's certificate, over plain HTTP.

It is an application of its own on a port of its own, knows no records and changes nothing: what
travels here could be read and replaced on the way, which is why it shows the fingerprint that
stands on the office computer's terminal. Whatever it does not have is not found, never redirected.
"""

import ssl
from dataclasses import dataclass
from urllib.parse import urlsplit

from flask import (
    Blueprint,
    Flask,
    Response,
    current_app,
    render_template,
    request,
    send_from_directory,
)
from flask_babel import gettext as _
from werkzeug.exceptions import HTTPException, NotFound

from ..config import folder
from . import languages
from .trust_profile import CONTENT_TYPE, profile

blueprint = Blueprint("trust", __name__)

#: What of the static folder these pages use.
_STATIC = ("style", "trust", "vendor/font", "bench/icons")
_FILE = "scale-companion"


@dataclass(frozen=True, slots=True)
class Trust:
    """What the page hands out.

    :ivar address: origin of office and bench, ``https://NAME:PORT``.
    :ivar trust_address: origin of these pages, ``http://NAME:PORT``.
    :ivar certificate_der: certificate of the authority.
    :ivar fingerprint: its SHA-256, ``AB:CD:...``.
    :ivar demo: the invented workshop.
    """

    address: str
    trust_address: str
    certificate_der: bytes
    fingerprint: str
    demo: bool

    @property
    def name(self) -> str:
        """DNS name of the shop."""
        return str(urlsplit(self.address).hostname)


def guard(app: Flask, trust: Trust) -> None:
    """Give the application its facts, refuse other names and dress every answer."""
    app.extensions["companion_trust"] = trust
    app.before_request(_refuse_foreign_host)
    app.after_request(_dress)
    app.register_error_handler(HTTPException, _refuse)


def language() -> str:
    """Language of this request: asked for in the address, else as the browser prefers.

    No cookie here: cookies know no ports, so one would travel to the application, too.
    """
    wanted = request.args.get("language", "")
    return wanted if wanted in languages.languages() else languages.preferred()


@blueprint.get("/")
def start() -> str:
    """Which kind of phone this is."""
    return _page("start.html", guess=_guess(request.user_agent.string))


@blueprint.get("/android")
def android() -> str:
    """Steps for Android."""
    return _page("android.html")


@blueprint.get("/iphone")
def iphone() -> str:
    """Steps for iPhone and iPad."""
    return _page("iphone.html")


@blueprint.get("/computer")
def computer() -> str:
    """Steps for Windows, macOS, Linux and Firefox."""
    return _page("computer.html")


@blueprint.get(f"/{_FILE}.crt")
def certificate() -> Response:
    """The certificate as Android and Windows take it."""
    return _file(_trust().certificate_der, "application/x-x509-ca-cert", f"{_FILE}.crt")


@blueprint.get(f"/{_FILE}.pem")
def certificate_pem() -> Response:
    """The certificate as text, for Linux and Firefox."""
    text = ssl.DER_cert_to_PEM_cert(_trust().certificate_der)
    return _file(text.encode(), "application/x-pem-file", f"{_FILE}.pem")


@blueprint.get(f"/{_FILE}.mobileconfig")
def certificate_profile() -> Response:
    """The certificate as iPhone, iPad and Mac take it."""
    trust = _trust()
    description = _(
        "Lets this device trust the certificate of the workshop's own server, %(name)s. The "
        "authority in it can sign for this name only.",
        name=trust.name,
    )
    made = profile(trust.name, trust.certificate_der, description)
    return _file(made, CONTENT_TYPE, f"{_FILE}.mobileconfig")


@blueprint.get("/static/<path:name>")
def static(name: str) -> Response:
    """Style, script and fonts of these pages; nothing of the app.

    :raises NotFound: a file of another part.
    """
    for part in _STATIC:
        if name.startswith(f"{part}/"):
            inside = name.removeprefix(f"{part}/")
            return send_from_directory(folder("static") / part, inside, max_age=0)
    raise NotFound


def _trust() -> Trust:
    found = current_app.extensions["companion_trust"]
    assert isinstance(found, Trust)
    return found


def _page(template: str, **context: object) -> str:
    return render_template(
        f"trust/{template}",
        trust=_trust(),
        file=_FILE,
        asked=request.args.get("language"),
        names=languages.language_names(),
        **context,
    )


def _guess(agent: str) -> str:
    """Endpoint of the steps that fit a browser; an iPad may call itself a computer."""
    if "Android" in agent:
        return "trust.android"
    return "trust.iphone" if any(kind in agent for kind in ("iPhone", "iPad")) else "trust.computer"


def _file(content: bytes, kind: str, name: str) -> Response:
    response = Response(content, content_type=kind)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


def _refuse_foreign_host() -> Response | None:
    if request.headers.get("Host", "").lower() == urlsplit(_trust().trust_address).netloc:
        return None
    return Response(_page("refused.html", status=400), 400)


def _refuse(error: HTTPException) -> Response:
    status = error.code or 500
    return Response(_page("refused.html", status=status), status)


def _dress(response: Response) -> Response:
    policy = {
        "default-src": "'none'",
        "script-src": "'self'",
        "style-src": "'self'",
        "font-src": "'self'",
        "img-src": "'self'",
        # The one thing the script asks: whether the shop itself is trusted.
        "connect-src": _trust().address,
        "form-action": "'none'",
        "base-uri": "'none'",
        "frame-ancestors": "'none'",
        "require-trusted-types-for": "'script'",
        "trusted-types": "'none'",
    }
    response.headers.update(
        {
            "Content-Security-Policy": "; ".join(f"{key} {value}" for key, value in policy.items()),
            "X-Content-Type-Options": "nosniff",
            "Referrer-Policy": "no-referrer",
            "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
            "Cross-Origin-Resource-Policy": "same-origin",
            "Cache-Control": "no-store",
            "Vary": "Accept-Language",
        }
    )
    return response
