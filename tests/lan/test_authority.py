"""The authority and its leaves: what they may, for how long, and how they lie on the disk."""

import subprocess
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID

from companion.certificate import certificate_until, fingerprint, read
from companion.errors import OutOfRange
from companion.lan import authority as authorities
from companion.lan import leaf as leaves
from companion.lan.authority import Authority

NAME = "companion.local"
NOW = datetime(2026, 3, 7, 10, 14, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "lan"


@pytest.fixture
def authority(folder: Path) -> Authority:
    return authorities.established(folder, NAME, NOW)


def verified(
    folder: Path, certificate: Path, *options: str, at: datetime = NOW
) -> subprocess.CompletedProcess[str]:
    """OpenSSL's own opinion of a leaf, at a moment."""
    return subprocess.run(
        [
            *("openssl", "verify", "-x509_strict", "-attime", str(int(at.timestamp()))),
            *("-purpose", "sslserver", "-CAfile", str(folder / "authority.pem")),
            *(*options, str(certificate)),
        ],
        capture_output=True,
        text=True,
        check=False,
    )


def test_openssl_accepts_the_shop_and_no_other_name(folder: Path, authority: Authority) -> None:
    leaves.write_pair(folder, leaves.issue(authority, NAME, NOW))
    path = folder / "leaf.pem"
    right = verified(folder, path, "-verify_hostname", NAME)
    assert right.returncode == 0, right.stderr
    assert verified(folder, path, "-verify_hostname", "other.local").returncode != 0
    late = verified(folder, path, at=NOW + 400 * DAY)
    assert "certificate has expired" in late.stderr


# Source: X509_V_ERR_PERMITTED_VIOLATION is 47, X509_V_ERR_EXCLUDED_VIOLATION 48 (x509_vfy.h).
@pytest.mark.parametrize(
    ("named", "error"),
    [
        (x509.DNSName("bank.example"), 47),
        (x509.DNSName("local"), 47),
        (x509.DNSName("evilcompanion.local"), 47),
        (x509.IPAddress(ip_address("192.168.1.7")), 48),
        (x509.IPAddress(ip_address("fd00::7")), 48),
    ],
)
def test_openssl_refuses_whatever_else_it_signs(
    folder: Path, authority: Authority, named: x509.GeneralName, error: int
) -> None:
    path = folder / "other.pem"
    path.write_bytes(signed_by_hand(authority, named).public_bytes(serialization.Encoding.PEM))
    done = verified(folder, path)
    assert done.returncode != 0
    assert f"error {error} at" in done.stderr


def signed_by_hand(authority: Authority, named: x509.GeneralName) -> x509.Certificate:
    """What a thief of the key would sign."""
    assert authority.key is not None
    key = ec.generate_private_key(ec.SECP256R1())
    signer = authority.certificate.extensions.get_extension_for_class(x509.SubjectKeyIdentifier)
    return (
        x509.CertificateBuilder()
        .subject_name(x509.Name([]))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(NOW - DAY)
        .not_valid_after(NOW + DAY)
        .add_extension(x509.SubjectAlternativeName([named]), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(signer.value),
            critical=False,
        )
        .sign(authority.key, hashes.SHA256())
    )


def test_the_authority_is_bound_and_says_so_critically(authority: Authority) -> None:
    held = authority.certificate.extensions
    basic = held.get_extension_for_class(x509.BasicConstraints)
    assert basic.critical and basic.value.ca and basic.value.path_length == 0
    usage = held.get_extension_for_class(x509.KeyUsage)
    assert usage.critical and usage.value.key_cert_sign and not usage.value.digital_signature
    names = held.get_extension_for_class(x509.NameConstraints)
    assert names.critical
    assert authorities.permitted_names(authority.certificate) == [NAME]
    assert {str(name.value) for name in names.value.excluded_subtrees or []} == {
        "0.0.0.0/0",
        "::/0",
    }
    assert "CN=Scale Companion\\, companion.local" in authority.certificate.subject.rfc4514_string()
    life = authority.certificate.not_valid_after_utc - authority.certificate.not_valid_before_utc
    assert life == timedelta(days=3650)
    assert isinstance(authority.certificate.public_key(), ec.EllipticCurvePublicKey)


def test_the_leaf_is_for_one_name_and_for_servers(authority: Authority) -> None:
    made = leaves.issue(authority, NAME, NOW).certificate
    names = made.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert list(names) == [x509.DNSName(NAME)]
    usage = made.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [ExtendedKeyUsageOID.SERVER_AUTH]
    assert not made.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    assert authority.key is not None and made.public_key() != authority.key.public_key()


# Source: the limit browsers set for public authorities is 398 days; ours stays below it, although
# Chromium takes longer ones from a private authority. The last second counts (RFC 5280, 4.1.2.5).
@pytest.mark.parametrize("life", [timedelta(days=397, seconds=1), timedelta(days=825)])
def test_a_longer_life_than_397_days_is_refused(authority: Authority, life: timedelta) -> None:
    with pytest.raises(OutOfRange) as caught:
        leaves.issue(authority, NAME, NOW, life)
    assert caught.value.field == "certificate life, days"
    assert "397" in caught.value.allowed
    made = leaves.issue(authority, NAME, NOW).certificate
    span = made.not_valid_after_utc - made.not_valid_before_utc + timedelta(seconds=1)
    assert span == timedelta(days=397)


def test_a_leaf_never_outlives_its_authority(authority: Authority) -> None:
    late = authority.certificate.not_valid_after_utc - 90 * DAY
    made = leaves.issue(authority, NAME, late).certificate
    assert made.not_valid_after_utc == authority.certificate.not_valid_after_utc


@pytest.mark.parametrize(
    ("days_later", "is_new"), [(0, False), (335, False), (336, True), (396, True), (500, True)]
)
def test_it_is_renewed_when_fewer_than_60_days_are_left(
    folder: Path, authority: Authority, days_later: int, is_new: bool
) -> None:
    assert leaves.renew_if_due(folder, authority, NAME, NOW)
    before, key = read(folder / "leaf.pem"), (folder / "leaf.key").read_bytes()
    trusted = (folder / "authority.pem").read_bytes()
    later = NOW + days_later * DAY
    assert leaves.renew_if_due(folder, authority, NAME, later) is is_new
    assert (read(folder / "leaf.pem") != before) is is_new
    assert ((folder / "leaf.key").read_bytes() != key) is is_new
    assert (folder / "authority.pem").read_bytes() == trusted
    assert verified(folder, folder / "leaf.pem", at=later).returncode == 0


def test_a_leaf_that_ends_with_its_authority_is_not_renewed_for_ever(
    folder: Path, authority: Authority
) -> None:
    late = authority.certificate.not_valid_after_utc - 90 * DAY
    assert leaves.renew_if_due(folder, authority, NAME, late)
    assert not leaves.renew_if_due(folder, authority, NAME, late + 80 * DAY)
    with pytest.raises(OutOfRange, match="has not ended"):
        authorities.established(folder, NAME, late + 91 * DAY)


def test_only_the_serving_user_may_read_the_files(folder: Path, authority: Authority) -> None:
    leaves.write_pair(folder, leaves.issue(authority, NAME, NOW))
    assert folder.stat().st_mode & 0o777 == 0o700
    found = {path.name: path.stat().st_mode & 0o777 for path in folder.iterdir()}
    assert found == dict.fromkeys(("authority.pem", "authority.key", "leaf.pem", "leaf.key"), 0o600)


def test_what_is_there_is_kept(folder: Path, authority: Authority) -> None:
    again = authorities.established(folder, NAME, NOW + 300 * DAY)
    assert again.certificate == authority.certificate
    assert again.key is not None and authority.key is not None
    assert again.key.private_numbers() == authority.key.private_numbers()


def test_the_fingerprint_is_the_one_openssl_shows(folder: Path, authority: Authority) -> None:
    shown = subprocess.run(
        ["openssl", "x509", "-in", folder / "authority.pem", "-noout", "-fingerprint", "-sha256"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout.strip()
    assert shown.partition("=")[2] == authority.fingerprint == fingerprint(authority.certificate)


class TestAFolderCutOffHalfWay:
    """Every order in which a power cut can leave the files."""

    def test_a_key_alone_is_made_anew(self, folder: Path, authority: Authority) -> None:
        (folder / "authority.pem").unlink()
        made = authorities.established(folder, NAME, NOW)
        assert made.key and made.key.public_key() == made.certificate.public_key()

    def test_half_a_key_alone_is_made_anew(self, folder: Path, authority: Authority) -> None:
        (folder / "authority.pem").unlink()
        (folder / "authority.key").write_text("-----BEGIN PRIV")
        assert authorities.established(folder, NAME, NOW).key is not None

    def test_a_leftover_of_a_write_is_no_hindrance(
        self, folder: Path, authority: Authority
    ) -> None:
        (folder / ".authority.pem.0badcafe").write_text("-----BEGIN")
        assert authorities.established(folder, NAME, NOW).certificate == authority.certificate

    @pytest.mark.parametrize("lost", ["leaf.pem", "leaf.key"])
    def test_half_a_leaf_is_issued_anew(
        self, folder: Path, authority: Authority, lost: str
    ) -> None:
        leaves.renew_if_due(folder, authority, NAME, NOW)
        (folder / lost).unlink()
        assert leaves.renew_if_due(folder, authority, NAME, NOW)
        assert verified(folder, folder / "leaf.pem").returncode == 0

    def test_a_new_key_beside_an_old_leaf_is_seen(self, folder: Path, authority: Authority) -> None:
        leaves.renew_if_due(folder, authority, NAME, NOW)
        other = leaves.issue(authority, NAME, NOW)
        (folder / "leaf.key").write_bytes(authorities.key_pem(other.key))
        assert leaves.renew_if_due(folder, authority, NAME, NOW)
        assert not leaves.renew_if_due(folder, authority, NAME, NOW)


def test_a_trusted_certificate_without_its_key_is_never_replaced(
    folder: Path, authority: Authority
) -> None:
    """The key may be kept elsewhere; what is served goes on until its end."""
    leaves.renew_if_due(folder, authority, NAME, NOW)
    (folder / "authority.key").unlink()
    without = authorities.established(folder, NAME, NOW)
    assert without.certificate == authority.certificate and without.key is None
    assert not leaves.renew_if_due(folder, without, NAME, NOW)
    with pytest.raises(OutOfRange, match="authority key"):
        leaves.renew_if_due(folder, without, NAME, NOW + 350 * DAY)


def test_files_that_do_not_belong_together_are_refused(
    folder: Path, authority: Authority, tmp_path: Path
) -> None:
    other = authorities.established(tmp_path / "other", NAME, NOW)
    assert other.key is not None
    (folder / "authority.key").write_bytes(authorities.key_pem(other.key))
    with pytest.raises(OutOfRange, match="the key of"):
        authorities.established(folder, NAME, NOW)
    with pytest.raises(OutOfRange, match=r"one for other\.local"):
        authorities.established(tmp_path / "other", "other.local", NOW)
    (folder / "authority.pem").write_text("nothing")
    with pytest.raises(OutOfRange, match="as this program wrote it"):
        authorities.established(folder, NAME, NOW)


def test_a_leaf_of_another_authority_is_replaced(
    folder: Path, authority: Authority, tmp_path: Path
) -> None:
    stranger = authorities.make(NAME, NOW)
    leaves.write_pair(folder, leaves.issue(stranger, NAME, NOW))
    assert leaves.renew_if_due(folder, authority, NAME, NOW)
    assert verified(folder, folder / "leaf.pem").returncode == 0


def test_the_end_of_a_certificate_is_told(folder: Path, authority: Authority) -> None:
    leaves.renew_if_due(folder, authority, NAME, NOW)
    assert certificate_until(folder / "leaf.pem") == NOW + 396 * DAY - timedelta(seconds=1)
    assert certificate_until(folder / "none.pem") is None
