"""What a certificate says: until when it counts, and the fingerprint people compare."""

from datetime import datetime
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes


def read(path: Path) -> x509.Certificate | None:
    """A certificate in PEM; None where there is none, or no whole one."""
    try:
        return x509.load_pem_x509_certificate(path.read_bytes())
    except (FileNotFoundError, ValueError):
        return None


def certificate_until(path: Path) -> datetime | None:
    """End of a certificate's life, UTC; None where there is no certificate."""
    found = read(path)
    return found.not_valid_after_utc if found else None


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 of the certificate as phones show it, ``AB:CD:...``."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def name_of(path: Path) -> str:
    """First name a certificate is for; empty where there is none to be read."""
    found = read(path)
    if found is None:
        return ""
    try:
        names = found.extensions.get_extension_for_class(x509.SubjectAlternativeName)
    except (ValueError, x509.ExtensionNotFound):
        return ""
    return next(iter(names.value.get_values_for_type(x509.DNSName)), "")
