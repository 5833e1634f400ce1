"""The certificate that is served: short-lived, for the shop's name alone, renewed by itself.

A leaf of the same authority needs no new trust on any phone. The limit is checked here, since
browsers take longer ones from a private authority without a word.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from .. import certificate as certificates
from ..errors import OutOfRange
from .authority import BACKDATED, Authority, key_pem, read_key
from .files import write

CERTIFICATE, KEY = "leaf.pem", "leaf.key"
LONGEST_LIFE = timedelta(days=397)
RENEWED_BEFORE_END = timedelta(days=60)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A certificate and its key."""

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey


def issue(authority: Authority, name: str, now: datetime, life: timedelta = LONGEST_LIFE) -> Leaf:
    """Sign a leaf with a key of its own, EC P-256.

    :param life: from a day ago on; cut to the end of the authority.
    :raises OutOfRange: a life of more than 397 days, or an authority without its key.
    """
    if life > LONGEST_LIFE:
        days = life / timedelta(days=1)
        raise OutOfRange("certificate life, days", days, f"at most {LONGEST_LIFE.days}")
    if authority.key is None:
        raise OutOfRange("authority key", "missing", "authority.key beside authority.pem")
    key = ec.generate_private_key(ec.SECP256R1())
    begins = now.replace(microsecond=0) - BACKDATED
    # The last second counts as part of the life (RFC 5280, 4.1.2.5).
    ends = min(begins + life - timedelta(seconds=1), authority.certificate.not_valid_after_utc)
    builder = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)]))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begins)
        .not_valid_after(ends)
    )
    for extension, critical in _extensions(authority, name, key):
        builder = builder.add_extension(extension, critical=critical)
    return Leaf(builder.sign(authority.key, hashes.SHA256()), key)


def _extensions(
    authority: Authority, name: str, key: ec.EllipticCurvePrivateKey
) -> list[tuple[x509.ExtensionType, bool]]:
    signer = authority.certificate.extensions.get_extension_for_class(x509.SubjectKeyIdentifier)
    return [
        (x509.BasicConstraints(ca=False, path_length=None), True),
        (_usage(), True),
        (x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), False),
        (x509.SubjectAlternativeName([x509.DNSName(name)]), False),
        (x509.SubjectKeyIdentifier.from_public_key(key.public_key()), False),
        (x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(signer.value), False),
    ]


def _usage() -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=True,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )


def write_pair(folder: Path, leaf: Leaf) -> None:
    """Put a leaf in place; a cut between the two files is seen as no leaf at all."""
    write(folder / KEY, key_pem(leaf.key))
    write(folder / CERTIFICATE, leaf.certificate.public_bytes(serialization.Encoding.PEM))


def is_due(folder: Path, authority: Authority, name: str, now: datetime) -> bool:
    """Whether a new leaf is wanted: none that fits, or fewer than 60 days left.

    Not where the authority itself ends by then, for a new one would end no later.
    """
    found = certificates.read(folder / CERTIFICATE)
    if found is None or not fits_its_key(folder, authority, name):
        return True
    ends = found.not_valid_after_utc
    if ends >= authority.certificate.not_valid_after_utc:
        return False
    return ends - now < RENEWED_BEFORE_END


def fits_its_key(folder: Path, authority: Authority, name: str) -> bool:
    """Whether there is a leaf of this authority for this name, with its key."""
    found, key = certificates.read(folder / CERTIFICATE), read_key(folder / KEY)
    return found is not None and key is not None and _fits(found, key, authority, name)


def _fits(
    found: x509.Certificate, key: ec.EllipticCurvePrivateKey, authority: Authority, name: str
) -> bool:
    try:
        found.verify_directly_issued_by(authority.certificate)
        held = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, TypeError, x509.ExtensionNotFound, InvalidSignature):
        return False
    is_ours = held.get_values_for_type(x509.DNSName) == [name]
    return is_ours and key.public_key() == found.public_key()


def renew_if_due(folder: Path, authority: Authority, name: str, now: datetime) -> bool:
    """Put a new leaf in place where one is wanted.

    :return: whether there is a new one.
    :raises OutOfRange: one is wanted, and the authority's key is not there to sign it.
    """
    if not is_due(folder, authority, name, now):
        return False
    write_pair(folder, issue(authority, name, now))
    return True
