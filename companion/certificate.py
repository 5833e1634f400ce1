"""The certificate this server shows: until when it is good, and for which name."""

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


def name_of(path: Path) -> str:
    """First name a certificate is for; empty where there is none to be read."""
    try:
        certificate = x509.load_pem_x509_certificate(path.read_bytes())
        names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName)
    except (OSError, ValueError, x509.ExtensionNotFound):
        return ""
    return next(iter(names.value.get_values_for_type(x509.DNSName)), "")


@lru_cache(maxsize=8)
def _end(path: Path, _changed_at_ns: int) -> datetime:
    return x509.load_pem_x509_certificate(path.read_bytes()).not_valid_after_utc
