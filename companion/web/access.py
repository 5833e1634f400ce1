"""Who may come in: a phone with its token, the office with its passphrase.

While the server serves this machine only and no passphrase is set, whoever sits at it is both.
What a view is for stands in the two lists here; a view in neither belongs to the office.
"""

import hashlib
import hmac

from flask import Flask, Response, current_app, g, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from ..records import pairing, passphrase, sessions
from ..records.pairing import PairedPhone
from ..records.sessions import Session
from .headers import SAFE_METHODS
from .limits import MAX_FILE_BYTES, PHONE_REQUESTS, Limits, later
from .problems import problem
from .state import now_utc, state

#: Views for anyone: the app itself, which is the same for all, and the doors.
PUBLIC = frozenset(
    {
        "static",
        "bench.shell",
        "bench.rescue",
        "bench.label",
        "bench.worker",
        "bench.words",
        "bench.manifest",
        "bench.trusted",
        "sync.health",
        "doors.pair",
        "office.language.choose",
        "office.access.login_form",
        "office.access.login",
        "office.access.passphrase_form",
        "office.access.choose_passphrase",
    }
)
_OFFICE = "office."
#: Views for a paired phone, and for nobody else where a passphrase is set.
PHONE = frozenset({"sync.append_rows", "sync.bundle", "sync.codes"})


def guard(app: Flask) -> None:
    """Check every request for its right to be here, after where it comes from was checked."""
    app.extensions["companion.limits"] = Limits()
    app.before_request(_let_in)
    app.jinja_env.globals.update(csrf=csrf)


def limits() -> Limits:
    """The counters of this application."""
    found = current_app.extensions["companion.limits"]
    assert isinstance(found, Limits)
    return found


def is_open() -> bool:
    """Whether nobody is asked who they are: this machine alone, and no passphrase."""
    return not state().config.address and not passphrase.is_set(state().store)


def cookie_name() -> str:
    """Name of the session cookie; the prefix makes a browser keep it to this very host.

    Cookies know no ports: with the server in its name, a demo beside a shop throws nobody out.
    """
    server = state().identity.server_id[:8]
    return f"__Host-companion-{server}" if request.is_secure else f"companion-{server}"


def session() -> Session | None:
    """The office session of this request."""
    found: Session | None = g.get("session")
    return found


def phone() -> PairedPhone | None:
    """The paired phone that asks; none where nobody is asked."""
    found: PairedPhone | None = g.get("phone")
    return found


def csrf() -> str:
    """What a form of this session carries so that no other page can send it; empty if open."""
    token = request.cookies.get(cookie_name(), "")
    if session() is None:
        return ""
    return hashlib.blake2b(b"form", key=token.encode()[:64], digest_size=24).hexdigest()


def _let_in() -> AnyResponse | None:
    endpoint = request.endpoint
    if endpoint in PHONE:
        return None if is_open() else _phone_or_refusal()
    if endpoint in PUBLIC and not endpoint.startswith(_OFFICE):
        # The app and its files are the same for all: no record is asked who wants them.
        return None
    g.session = _session_of_cookie()
    g.is_in = g.session is not None or is_open()
    if endpoint is None or endpoint in PUBLIC or (g.session is None and g.is_in):
        return None
    return _office_or_door()


def _session_of_cookie() -> Session | None:
    token = request.cookies.get(cookie_name(), "")
    return sessions.recognised(state().store, token, now_utc()) if token else None


def _office_or_door() -> AnyResponse | None:
    if session() is None:
        if request.method in SAFE_METHODS:
            return redirect(url_for("office.access.login_form", then=request.full_path.rstrip("?")))
        return problem(401, "not_logged_in")
    if request.endpoint == "office.exchange.import_log":
        # The mark of the form stands in the same body as the file.
        request.max_content_length = MAX_FILE_BYTES
    if request.method in SAFE_METHODS or hmac.compare_digest(
        request.form.get("csrf", "").encode(), csrf().encode()
    ):
        return None
    return problem(403, "form_of_another_session")


def _phone_or_refusal() -> Response | None:
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    found = None
    if scheme.lower() == "bearer" and token:
        found = pairing.recognised(state().store, token, now_utc())
    if found is None:
        response = problem(401, "not_paired")
        response.headers["WWW-Authenticate"] = "Bearer"
        return response
    g.phone = found
    if found.revoked_at:
        return problem(403, "revoked")
    if wait_s := limits().wait_s(PHONE_REQUESTS, of=found.log_id):
        return later(wait_s)
    limits().count(PHONE_REQUESTS, of=found.log_id)
    return None
