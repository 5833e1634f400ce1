"""The interface of the phones: rows up, bundle down, codes.

Rows are checked as a whole by digest and count before they are read, and each is answered for.
Business rules never reject: what is strange is set aside and shown in the office.
"""

from datetime import UTC, datetime

from flask import Blueprint, Response, jsonify, request

from ..certificate import certificate_until
from ..errors import Malformed, OtherShop, OutOfRange, TooLarge
from ..records import bundle as bundles
from ..records import labels, log, pairing
from ..trade.times import format_utc, parse_utc
from ..wire.bundle import acknowledgement, pack
from ..wire.digest import matches
from ..wire.log_csv import read_log
from ..wire.row_check import is_log_id
from .access import phone
from .problems import problem
from .state import now_utc, state

blueprint = Blueprint("sync", __name__, url_prefix="/api/v1")

MAX_ROWS = 500
MAX_BYTES = 256 * 1024


@blueprint.post("/logs/<log_id>/rows")
def append_rows(log_id: str) -> Response:
    """Take rows of one phone's log."""
    _require_log_id(log_id)
    if not _is_own_log(log_id):
        return problem(403, "other_log", "log_id", log_id, "the log this phone was paired with")
    _require_this_shop()
    body = _whole_body()
    digest = request.headers["Content-Digest"]
    lines = read_log(body)
    if len(lines) > MAX_ROWS:
        raise TooLarge("too_many_rows", f"{len(lines)} rows", f"at most {MAX_ROWS} rows")
    count = request.headers.get("Row-Count", "")
    if count != str(len(lines)):
        raise Malformed("row_count", f"Row-Count {count!r}", f"{len(lines)}, the rows in the body")
    received_at = now_utc()
    contact = log.Contact(
        received_at=received_at,
        app_version=request.headers.get("App-Version", "")[:64],
        clock_offset_ms=_clock_offset_ms(received_at),
        unsent=_still_unsent(len(lines)),
    )
    receipt = log.append(state().store, log_id, lines, contact)
    codes = _refill(log_id, request.headers.get("Codes-Left", ""), received_at)
    answer = acknowledgement(state().identity, log_id, digest, receipt, received_at, codes)
    known = phone()
    if known and (token := pairing.next_token(state().store, known, received_at)):
        answer["token"] = token
    return jsonify(answer)


@blueprint.get("/bundle")
def bundle() -> Response:
    """All a phone needs to work without this server."""
    certificate = state().config.certificate
    end = certificate_until(certificate) if certificate else None
    until = format_utc(end) if end else ""
    text, etag = pack(bundles.gather(state().store, state().identity, now_utc(), until))
    response = Response(text, content_type="application/json")
    response.set_etag(etag)
    response.make_conditional(request)
    return response


@blueprint.post("/codes")
def codes() -> Response:
    """Give a phone codes for cups it starts without a plan."""
    try:
        asked = request.get_json(silent=True)
    except RecursionError:
        asked = None
    log_id = str(asked.get("log_id", "")) if isinstance(asked, dict) else ""
    _require_log_id(log_id)
    if not _is_own_log(log_id):
        return problem(403, "other_log", "log_id", log_id, "the log this phone was paired with")
    given = labels.take(state().store, labels.BLOCK, log_id, now_utc())
    return jsonify(log_id=log_id, server_id=state().identity.server_id, codes=given)


@blueprint.get("/health")
def health() -> Response:
    """Whether this is the server a phone knows, and its time."""
    identity = state().identity
    return jsonify(server_id=identity.server_id, epoch=identity.epoch, server_time=now_utc())


def _require_log_id(log_id: str) -> None:
    if not is_log_id(log_id):
        raise OutOfRange("log_id", log_id, "a lower-case UUID")
    if log_id == state().identity.log_id:
        raise OutOfRange("log_id", log_id, "the log of a phone; this one is the office's own")


def _is_own_log(log_id: str) -> bool:
    known = phone()
    return known is None or known.log_id == log_id


def _require_this_shop() -> None:
    """Rows meant for another shop must not even be kept here.

    :raises OtherShop: the phone knows another server under this address.
    """
    wanted, own = request.headers.get("Server-Id", ""), state().identity.server_id
    if wanted not in ("", own):
        raise OtherShop(wanted, own)


def _whole_body() -> bytes:
    """The body, once its size and digest are right.

    :raises TooLarge: more than one request may carry.
    :raises Malformed: not CSV by its type, or the digest is missing or of another body.
    """
    if (request.content_length or 0) > MAX_BYTES:
        raise TooLarge("too_large", f"{request.content_length} bytes", f"at most {MAX_BYTES} bytes")
    if request.mimetype != "text/csv":
        raise Malformed("content_type", f"Content-Type {request.mimetype!r}", "text/csv")
    body = request.get_data(cache=False)
    if not matches(request.headers.get("Content-Digest", ""), body):
        raise Malformed("digest", "Content-Digest", "sha-256 of the body as RFC 9530 writes it")
    return body


def _clock_offset_ms(received_at: str) -> int | None:
    """How far the phone's clock is behind this one, as it said when it sent."""
    try:
        sent = parse_utc(request.headers.get("Sent-At", ""))
    except OutOfRange:
        return None
    return round((parse_utc(received_at) - sent.astimezone(UTC)) / _MILLISECOND)


_MILLISECOND = datetime.resolution * 1000


def _still_unsent(sent: int) -> int | None:
    """Rows the phone still holds back once these are kept, if it said how many it had."""
    text = request.headers.get("Unsent", "")
    if not text.isascii() or not text.isdigit() or len(text) > _MOST_DIGITS:
        return None
    return max(0, int(text) - sent)


_MOST_DIGITS = 6


def _refill(log_id: str, codes_left: str, minted_at: str) -> list[str]:
    """Codes for a phone that runs low, so that it never stands without one."""
    if not codes_left.isascii() or not codes_left.isdigit() or len(codes_left) > _MOST_DIGITS:
        return []
    left = int(codes_left)
    if left >= labels.REFILL_BELOW:
        return []
    return labels.take(state().store, labels.BLOCK - left, log_id, minted_at)
