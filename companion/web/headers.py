"""Who may ask, and what every answer carries.

Only the shop's own names are served (a foreign name in Host is how a web page elsewhere would
reach a local server). Requests that change something must come from a page of this very origin;
browsers say so in Sec-Fetch-Site or Origin, and a request without either is refused.
"""

import re

from flask import Flask, Response, request
from werkzeug.exceptions import RequestEntityTooLarge

from ..config import LOOPBACK_ADDRESSES
from .intake import LARGE, LATE, TROUBLE
from .problems import problem
from .state import state

#: Marks of a proxy: what stands behind one is not on this machine.
_PASSED_ON = ("Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Real-IP", "Via")
#: One host; two Host headers arrive with a comma between.
_HOST = re.compile(r"(?P<name>\[[0-9a-f:.]+\]|[^:,\[\]]*)(:[0-9]{1,5})?\Z")
#: Of a Host that is refused, so much is repeated.
_LONGEST_HOST = 120
#: Methods that change nothing.
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})

_POLICY = {
    "default-src": "'none'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "style-src": "'self'",
    "font-src": "'self'",
    "img-src": "'self' blob:",
    "connect-src": "'self'",
    "manifest-src": "'self'",
    "worker-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "object-src": "'none'",
    "frame-ancestors": "'none'",
    "require-trusted-types-for": "'script'",
    "trusted-types": "companion",
}
CONTENT_SECURITY_POLICY = "; ".join(f"{name} {value}" for name, value in _POLICY.items())

_HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), screen-wake-lock=(self), microphone=(), geolocation=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


def guard(app: Flask) -> None:
    """Check every request before anything else sees it, and dress every answer."""
    app.before_request(_refuse_foreign_host)
    app.before_request(_refuse_foreign_asker)
    app.before_request(_refuse_unsure_body)
    app.before_request(_refuse_foreign_origin)
    app.after_request(_dress)


def _refuse_foreign_host() -> Response | None:
    config, host = state().config, request.headers.get("Host", "")
    # The address of a shop counts with its port; on this machine any port may be served.
    found = _HOST.match(host.lower())
    if found and (host.lower() if config.address else found["name"]) in config.hosts:
        return None
    # In plain words: a page would need addresses of its own, which such a Host cannot give.
    allowed = ", ".join(config.hosts)
    if request.path.startswith("/api/"):
        return problem(400, "host", "Host", host, allowed)
    text = f"This address is not served here. Host: {host[:_LONGEST_HOST]!r}. Allowed: {allowed}.\n"
    return Response(text, 400, content_type="text/plain; charset=utf-8")


def _refuse_foreign_asker() -> Response | None:
    """Without TLS only this machine is answered, whatever name the request gives the server."""
    if state().config.address:
        return None if request.is_secure else problem(400, "not_tls", "scheme", "http", "https")
    passed_on = [name for name in _PASSED_ON if name in request.headers]
    asker = request.remote_addr or ""
    # A proxy told nothing else asks in the old version, which no browser has spoken for decades.
    if request.environ.get("SERVER_PROTOCOL") == "HTTP/1.0":
        passed_on.append("HTTP/1.0")
    if asker in LOOPBACK_ADDRESSES and not passed_on:
        return None
    shown = passed_on[0] if passed_on else asker
    return problem(403, "this_machine_only", "asker", shown, "COMPANION_ADDRESS, behind TLS")


def _refuse_unsure_body() -> Response | None:
    """A body must have one length, come in time and whole, and need no unpacking.

    :raises RequestEntityTooLarge: more than any route takes.
    """
    headers = request.headers
    if "Transfer-Encoding" in headers and "Content-Length" in headers:
        return problem(
            400, "two_lengths", "Content-Length", headers["Content-Length"], "one length"
        )
    if headers.get("Content-Encoding", "identity") != "identity":
        shown = headers["Content-Encoding"]
        return problem(415, "content_encoding", "Content-Encoding", shown, "no encoding")
    trouble = request.environ.get(TROUBLE)
    if trouble == LARGE:
        raise RequestEntityTooLarge
    if trouble == LATE:
        return problem(408, "too_slow", "body", "", "the whole body within its time")
    return problem(400, "cut_off", "body", "", "the whole body") if trouble else None


def _refuse_foreign_origin() -> Response | None:
    if request.method in SAFE_METHODS:
        return None
    origin = request.headers.get("Origin")
    site = request.headers.get("Sec-Fetch-Site")
    own = state().config.address or f"{request.scheme}://{request.host}"
    if (
        (origin is None or origin == own)
        and (site is None or site == "same-origin")
        and (origin or site)
    ):
        return None
    return problem(403, "origin", "Origin", origin or "", own)


def _dress(response: Response) -> Response:
    for name, value in _HEADERS.items():
        response.headers.setdefault(name, value)
    if request.path.startswith("/static/"):
        # Always asked again, answered by ETag: the file of an update is never an old one.
        response.headers["Cache-Control"] = "no-cache"
    elif "Cache-Control" not in response.headers:
        response.headers["Cache-Control"] = "no-store"
    return response
