"""The certificate this server shows: until when it is good."""

from datetime import datetime
from functools import lru_cache
from pathlib import Path

from cryptography import x509


def ends_at(path: Path | None) -> datetime | None:
    """End of the first certificate of a PEM file, in UTC; None where there is none to be read."""
    try:
        return _end(path, path.stat().st_mtime_ns) if path else None
    except (OSError, ValueError):
        return None


@lru_cache(maxsize=8)
def _end(path: Path, _changed_at_ns: int) -> datetime:
    return x509.load_pem_x509_certificate(path.read_bytes()).not_valid_after_utc
