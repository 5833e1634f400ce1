"""Where things are and how this program was started. Read once, passed on."""

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import platformdirs

from .errors import OutOfRange

#: Names a browser may call this server by while it only listens on this machine.
LOOPBACK_HOSTS = ("127.0.0.1", "localhost", "[::1]")
#: Where a proxy on this machine asks from.
LOOPBACK_ADDRESSES = ("127.0.0.1", "::1")
_MOST_HOPS = 9
#: Longest name with port: every label carries it in its pattern.
_LONGEST_HOST = 50
#: As browsers send it: letters beyond ASCII are written in their ASCII form (xn--...).
_NAME = re.compile(r"[a-z0-9]([a-z0-9.-]*[a-z0-9])?\Z")


def folder(name: str) -> Path:
    """Folder ``static`` or ``templates``: beside this package in a checkout, inside it in a wheel.

    Looked up by this file's own place, never by the working folder.
    """
    here = Path(__file__).parent
    beside = here.parent / name
    return beside if (here.parent / "pyproject.toml").is_file() and beside.is_dir() else here / name


@dataclass(frozen=True, slots=True)
class Config:
    """Settings of one run.

    :ivar data_dir: folder of the records.
    :ivar demo: the invented workshop.
    :ivar address: the one origin of the shop on a network, ``https://NAME:PORT``; empty while the
        server serves this machine only.
    :ivar trust_address: where a phone learns to trust the shop's certificate; empty: nowhere.
    :ivar certificate: the certificate served, in PEM, where the program knows it.
    :ivar trusted_hops: proxies in front whose word on the asker's address is taken.
    :ivar proxy_from: addresses those proxies ask from.
    """

    data_dir: Path
    demo: bool = False
    address: str = ""
    trust_address: str = ""
    certificate: Path | None = None
    trusted_hops: int = 0
    proxy_from: tuple[str, ...] = LOOPBACK_ADDRESSES
    #: whether a line is written for every request.
    journal: bool = False

    @property
    def hosts(self) -> tuple[str, ...]:
        """Names a request may ask for; with a port only where the address has one."""
        return (urlsplit(self.address).netloc,) if self.address else LOOPBACK_HOSTS

    @property
    def journal_dir(self) -> Path:
        """Folder the requests are noted in."""
        return self.data_dir / "journal"

    @property
    def database_file(self) -> Path:
        """File the records are in."""
        return self.data_dir / "companion.sqlite3"

    @property
    def database_url(self) -> str:
        """SQLAlchemy URL of the records."""
        return f"sqlite:///{self.database_file}"

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] = os.environ) -> "Config":
        """Settings as the serving process hands them to its workers.

        :raises OutOfRange: an address that is none, or a number of hops that is none.
        """

        def given(name: str) -> str:
            return environment.get(f"COMPANION_{name}", "").strip()

        demo = given("DEMO") == "1"
        return cls(
            data_dir=Path(given("DATA")) if given("DATA") else default_data_dir(demo),
            demo=demo,
            address=origin(given("ADDRESS")),
            trust_address=given("TRUST_ADDRESS"),
            certificate=Path(given("CERTIFICATE")) if given("CERTIFICATE") else None,
            trusted_hops=_hops(given("TRUSTED_HOPS")),
            proxy_from=tuple(given("PROXY_FROM").replace(",", " ").split()) or LOOPBACK_ADDRESSES,
            journal=True,
        )


def origin(text: str) -> str:
    """An address as browsers name an origin: lower case, without the usual port.

    :raises OutOfRange: not ``https://NAME`` or ``https://NAME:PORT``. Without TLS a phone gets
        neither camera nor worker, and the passphrase would travel in the open.
    """
    if not text:
        return ""
    try:
        parts = urlsplit(text.lower())
        port = parts.port
    except ValueError:
        parts, port = urlsplit(""), None
    extra = parts.path.strip("/") or parts.query or parts.fragment or parts.username
    is_named = _NAME.match(parts.hostname or "") and len(parts.netloc) <= _LONGEST_HOST
    if parts.scheme != "https" or not is_named or extra:
        allowed = f"https://NAME or https://NAME:PORT, at most {_LONGEST_HOST} characters of name"
        raise OutOfRange("COMPANION_ADDRESS", text, allowed)
    return f"https://{parts.hostname}" + (f":{port}" if port not in (None, 443) else "")


def _hops(text: str) -> int:
    if text in ("", "0"):
        return 0
    if text.isascii() and text.isdigit() and int(text[:3]) <= _MOST_HOPS:
        return int(text)
    raise OutOfRange("COMPANION_TRUSTED_HOPS", text, f"a number from 0 to {_MOST_HOPS}")


def default_data_dir(demo: bool) -> Path:
    """The user's own data folder; the demo workshop has one of its own."""
    base = Path(platformdirs.user_data_dir("scale-companion", appauthor=False))
    return base / ("demo" if demo else "shop")
