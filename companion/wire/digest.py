"""Content-Digest of RFC 9530: the body's SHA-256 as a structured field."""

import base64
import hashlib
import re

_FIELD = re.compile(r"sha-256=:([A-Za-z0-9+/]{43}=):\Z")


def content_digest(body: bytes) -> str:
    """Header value for a body: ``sha-256=:BASE64:``.

    :source: RFC 9530 section 2.
    """
    return f"sha-256=:{base64.b64encode(hashlib.sha256(body).digest()).decode('ascii')}:"


def matches(header: str, body: bytes) -> bool:
    """Whether a Content-Digest header belongs to this body; false for any other algorithm."""
    return _FIELD.match(header) is not None and header == content_digest(body)
