"""Errors as answers: RFC 9457 problem details for programs, a page for people.

Each names the field, the value and what is allowed. An error nobody foresaw shows an id that the
program's own output repeats, and nothing else.
"""

import json
import uuid
from typing import Any

from flask import Flask, Response, current_app, make_response, render_template, request
from flask_babel import gettext as _
from sqlalchemy.exc import OperationalError
from werkzeug.exceptions import HTTPException, RequestEntityTooLarge

from ..errors import CompanionError, Malformed, NotKnown, OtherShop, OutOfRange

_LONGEST_VALUE = 120


def answer(app: Flask) -> None:
    """Turn every error into one answer."""
    app.register_error_handler(CompanionError, _companion_error)
    app.register_error_handler(HTTPException, _http_error)
    app.register_error_handler(OperationalError, _storage_error)
    app.register_error_handler(OverflowError, _too_large_a_number)
    app.register_error_handler(Exception, _unforeseen)


def problem(
    status: int, kind: str, field: str = "", value: object = "", allowed: str = ""
) -> Response:
    """One answer for one problem, as JSON under /api/ and as a page elsewhere."""
    shown = str(value)
    shown = shown if len(shown) <= _LONGEST_VALUE else shown[:_LONGEST_VALUE] + "…"
    body: dict[str, Any] = {
        "type": f"urn:companion:problem:{kind}",
        "title": kind.replace("_", " "),
        "status": status,
        "field": field,
        "value": shown,
        "allowed": allowed,
    }
    if request.path.startswith("/api/"):
        response = make_response(json.dumps(body), status)
        response.headers["Content-Type"] = "application/problem+json"
        return response
    return make_response(render_template("office/problem.html", problem=body), status)


def _companion_error(error: CompanionError) -> Response:
    if isinstance(error, OutOfRange):
        return problem(error.http_hint, "out_of_range", error.field, error.value, error.allowed)
    if isinstance(error, Malformed):
        return problem(error.http_hint, error.problem, error.where, "", error.allowed)
    if isinstance(error, OtherShop):
        return problem(error.http_hint, "other_server", "Server-Id", error.wanted, error.own)
    if isinstance(error, NotKnown):
        return problem(error.http_hint, "not_known", error.field, error.value)
    return problem(error.http_hint, "refused", "", str(error))


def _http_error(error: HTTPException) -> Response:
    if isinstance(error, RequestEntityTooLarge):
        return problem(413, "too_large", "body", request.content_length or "", _("a smaller body"))
    status = error.code or 500
    return problem(status, "not_found" if status == 404 else "refused", "path", request.path)


def _storage_error(error: OperationalError) -> Response:
    """The disk is full, read-only or busy: the phone keeps its rows and tries again."""
    current_app.logger.error("records cannot be written: %s", error.orig)
    response = problem(503, "records_not_writable")
    response.headers["Retry-After"] = "30"
    return response


def _too_large_a_number(_error: OverflowError) -> Response:
    """A number in an address that no record can have."""
    return problem(404, "not_found", "path", request.path)


def _unforeseen(error: Exception) -> Response:
    incident = uuid.uuid4().hex[:12]
    current_app.logger.exception("incident %s", incident, exc_info=error)
    return problem(500, "unforeseen", "incident", incident)
