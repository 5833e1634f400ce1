"""Pairing a phone: the one thing a phone may ask for before it is known."""

from typing import Any

from flask import Blueprint, Response, g, jsonify, request

from ..errors import Malformed, OtherShop
from ..records import pairing
from ..wire.row_check import is_log_id
from .access import limits
from .limits import PAIRING_TRIES, WRONG_PAIRINGS_OF_ALL, later
from .problems import problem
from .state import now_utc, state

blueprint = Blueprint("doors", __name__, url_prefix="/api/v1")

_EVERYBODY = "everybody"


@blueprint.post("/pair")
def pair() -> Response:
    """Spend a one-time code; the phone gets its token and learns what is held of its log."""
    asker = request.remote_addr or ""
    wait_s = max(
        limits().wait_s(PAIRING_TRIES, of=asker),
        limits().wait_s(WRONG_PAIRINGS_OF_ALL, of=_EVERYBODY),
    )
    if wait_s:
        return later(wait_s)
    limits().count(PAIRING_TRIES, of=asker)
    asked = _asked()
    identity = state().identity
    # Told before the code is spent: an app that keeps rows of another shop must not mix them.
    if asked["server_id"] not in ("", identity.server_id):
        raise OtherShop(asked["server_id"], identity.server_id)
    made = pairing.pair(state().store, asked["code"], asked["log_id"], now_utc())
    if made is None:
        limits().count(WRONG_PAIRINGS_OF_ALL, of=_EVERYBODY)
        g.event = "pairing_refused"
        return problem(403, "pairing_refused", "code", "", "a code not used yet, 5 minutes old")
    g.event = "paired"
    return jsonify(
        server_id=identity.server_id,
        epoch=identity.epoch,
        log_id=asked["log_id"],
        name=made.name,
        token=made.token,
        have_upto=made.have_upto,
        replaces=made.replaces,
    )


def _asked() -> dict[str, str]:
    """What a phone asks with.

    :raises Malformed: not JSON, or a field is missing or no text.
    """
    try:
        body: Any = request.get_json(silent=True)
    except RecursionError:
        body = None
    if not isinstance(body, dict):
        raise Malformed("not_json", "body", "a JSON object")
    asked = {name: body.get(name, "") for name in ("code", "log_id", "server_id")}
    for name, value in asked.items():
        if not isinstance(value, str) or not value.isascii():
            raise Malformed("not_text", name, "text of plain letters, digits and signs")
    if not is_log_id(asked["log_id"]) or asked["log_id"] == state().identity.log_id:
        raise Malformed("log_id", "log_id", "a lower-case UUID, the log of a phone")
    return asked
