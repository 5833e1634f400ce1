"""The shop's own certificate authority: made once, trusted by the phones, bound to one name.

Whoever steals its key can sign for the shop's name and for nothing else: the name constraint is
critical, and no address of numbers is permitted (RFC 5280, 4.2.1.10).
"""

import ipaddress
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from .. import certificate as certificates
from ..errors import OutOfRange
from .files import make_folder, write

CERTIFICATE, KEY = "authority.pem", "authority.key"
LIFE = timedelta(days=3650)
#: A phone whose clock is behind must not find the certificate too young.
BACKDATED = timedelta(days=1)

_NO_NUMBERS = [
    x509.IPAddress(ipaddress.ip_network("0.0.0.0/0")),
    x509.IPAddress(ipaddress.ip_network("::/0")),
]


@dataclass(frozen=True, slots=True)
class Authority:
    """The authority.

    :ivar key: None while it is kept elsewhere; nothing can be signed then.
    """

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey | None

    @property
    def fingerprint(self) -> str:
        """SHA-256, as phones and terminal show it."""
        return certificates.fingerprint(self.certificate)

    @property
    def der(self) -> bytes:
        """The certificate as phones take it."""
        return self.certificate.public_bytes(serialization.Encoding.DER)


def established(folder: Path, name: str, now: datetime) -> Authority:
    """The authority of a folder, made now where there is none.

    A key alone is left over from a start that was cut off: nobody trusts anything yet, so both
    are made again. A certificate alone is trusted by phones and is never replaced in passing.

    :param name: the one DNS name it may sign for.
    :raises OutOfRange: the files do not belong together, or to another name.
    """
    make_folder(folder)
    if not (folder / CERTIFICATE).exists():
        made = make(name, now)
        assert made.key is not None
        # The key first: a certificate whose key was lost could never sign.
        write(folder / KEY, key_pem(made.key))
        write(folder / CERTIFICATE, made.certificate.public_bytes(serialization.Encoding.PEM))
    return _require_use(folder, name, now)


def make(name: str, now: datetime) -> Authority:
    """A new authority for one name, EC P-256."""
    key = ec.generate_private_key(ec.SECP256R1())
    title = x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Scale Companion"),
            x509.NameAttribute(NameOID.COMMON_NAME, f"Scale Companion, {name}"),
        ]
    )
    begins = now.replace(microsecond=0) - BACKDATED
    builder = (
        x509.CertificateBuilder()
        .subject_name(title)
        .issuer_name(title)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begins)
        .not_valid_after(begins + LIFE)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(), critical=True)
        .add_extension(x509.NameConstraints([x509.DNSName(name)], _NO_NUMBERS), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )
    return Authority(builder.sign(key, hashes.SHA256()), key)


def _usage() -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=False,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=True,
        crl_sign=True,
        encipher_only=False,
        decipher_only=False,
    )


def _require_use(folder: Path, name: str, now: datetime) -> Authority:
    """The authority as it lies in the folder, if it can do its work."""
    path = folder / CERTIFICATE
    found = certificates.read(path)
    if found is None:
        raise OutOfRange("authority", path, "the certificate as this program wrote it")
    if permitted_names(found) != [name]:
        raise OutOfRange("authority", path, f"one for {name}, the kept address")
    if found.not_valid_after_utc <= now:
        raise OutOfRange(
            "authority",
            path,
            f"one that has not ended; move {folder} away, and let every phone trust a new one",
        )
    key = read_key(folder / KEY)
    if key and key.public_key() != found.public_key():
        raise OutOfRange("authority key", folder / KEY, f"the key of {path}")
    return Authority(found, key)


def permitted_names(certificate: x509.Certificate) -> list[str]:
    """DNS names an authority may sign for."""
    try:
        held = certificate.extensions.get_extension_for_class(x509.NameConstraints).value
    except x509.ExtensionNotFound:
        return []
    names = held.permitted_subtrees or []
    return [name.value for name in names if isinstance(name, x509.DNSName)]


def key_pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    """A key as it lies in its file."""
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def read_key(path: Path) -> ec.EllipticCurvePrivateKey | None:
    """A key; None where there is none, or no whole one."""
    try:
        found = serialization.load_pem_private_key(path.read_bytes(), password=None)
    except (FileNotFoundError, ValueError):
        return None
    return found if isinstance(found, ec.EllipticCurvePrivateKey) else None
