"""The shop's one address on its network: chosen once, kept, never changed in passing.

A browser keeps what a phone weighed by name and port, so another address is another, empty app.
"""

import json
import re
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TypeVar

from ..errors import OutOfRange
from ..paper.qr import LONGEST_HOST
from ..records.files import sync_folder
from ..trade.times import format_utc
from .files import make_folder, write

T = TypeVar("T")

DEFAULT_NAME = "companion.local"
DEFAULT_PORT = 8443
#: The demo has a port of its own here, too: invented cups never lie in the log of a shop.
DEMO_PORT = 8453
#: Multicast answers for names under this one; any other must be known to the router.
MULTICAST_DOMAIN = ".local"

#: The trust page is served on the port after.
_HIGHEST_PORT = 65534
_LONGEST_NAME = LONGEST_HOST - len(":65534")
_LABEL = r"[a-z0-9](?:[a-z0-9-]{0,61}[a-z0-9])?"
# A last part of digits makes an address of numbers, however many parts there are.
_NAME = re.compile(rf"(?:{_LABEL}\.)+(?!(?:[0-9]+|0x[0-9a-f]*)\Z){_LABEL}\Z")
_ALLOWED_NAME = (
    "a name of small letters, digits and hyphens with a dot, such as companion.local, at most "
    f"{_LONGEST_NAME} characters, no number of a network and not localhost"
)
_WHAT_A_CHANGE_DOES = (
    "an installed app stays at the old address and keeps its rows there: first share its log as "
    "a file on every phone and import it here; afterwards trust, install and pair every phone "
    "anew. Printed labels go on working, for scanning ignores the host. To change it all the "
    "same, add --change-address"
)


@dataclass(frozen=True, slots=True)
class Address:
    """Where the shop is found.

    :ivar name: DNS name, lower case.
    :ivar port: of office and bench, over TLS.
    """

    name: str
    port: int

    @property
    def trust_port(self) -> int:
        """Port of the page that explains the certificate, over plain HTTP."""
        return self.port + 1

    @property
    def is_multicast(self) -> bool:
        """Whether this program answers for the name itself."""
        return self.name.endswith(MULTICAST_DOMAIN)

    @property
    def url(self) -> str:
        """Origin of office and bench, as a browser writes it."""
        return f"https://{self.name}" + (f":{self.port}" if self.port != 443 else "")

    @property
    def trust_url(self) -> str:
        """Origin of the trust page, as a browser writes it."""
        return f"http://{self.name}" + (f":{self.trust_port}" if self.trust_port != 80 else "")


def wanted(
    folder: Path, name: str | None, port: int | None, *, default_port: int, change: bool
) -> Address:
    """The address to serve: what was asked for, else the kept one, else the usual one.

    Nothing is written, so that a name or port that turns out to be taken is not kept.

    :param folder: of the network's files.
    :param name: name asked for; None takes the kept one.
    :param port: port asked for; None takes the kept one.
    :param change: leave the kept address.
    :raises OutOfRange: no name or port of ours, or another than the kept one without change.
    """
    kept = read(folder)
    found = Address(
        require_name(_first(name, kept.name if kept else None, DEFAULT_NAME)),
        require_port(_first(port, kept.port if kept else None, default_port)),
    )
    if kept and kept != found and not change:
        raise _other_than_kept(kept, found)
    return found


def _first(asked: T | None, kept: T | None, usual: T) -> T:
    if asked is not None:
        return asked
    return usual if kept is None else kept


def keep(folder: Path, address: Address, now: datetime) -> None:
    """Keep the address for good; what belongs to another name is moved aside as a whole."""
    kept = read(folder)
    if kept == address:
        return
    if kept and kept.name != address.name:
        _move_aside(folder, now)
    make_folder(folder)
    facts = {
        "name": address.name,
        "port": address.port,
        "trust_port": address.trust_port,
        "chosen_at": format_utc(now),
    }
    write(_file(folder), json.dumps(facts, indent=1).encode())


def read(folder: Path) -> Address | None:
    """The kept address; None where none was chosen yet.

    :raises OutOfRange: the file says something else.
    """
    try:
        text = _file(folder).read_text(encoding="utf-8")
    except FileNotFoundError:
        return None
    try:
        facts = json.loads(text)
        return Address(require_name(facts["name"]), require_port(facts["port"]))
    except (KeyError, TypeError, ValueError, OutOfRange) as error:
        raise OutOfRange("address", _file(folder), "the file as this program wrote it") from error


def require_name(name: str) -> str:
    """The name, if phones can be led to it.

    :raises OutOfRange: no DNS name with a dot, or one of numbers.
    """
    if len(name) <= _LONGEST_NAME and _NAME.match(name) and not _is_this_machine(name):
        return name
    raise OutOfRange("--name", repr(name), _ALLOWED_NAME)


def _is_this_machine(name: str) -> bool:
    return name.rpartition(".")[2] in ("localhost", "localdomain")


def require_port(port: int) -> int:
    """The port, if the next one is free for the trust page.

    :raises OutOfRange: not from 1 to 65534.
    """
    if type(port) is int and 1 <= port <= _HIGHEST_PORT:
        return port
    raise OutOfRange(
        "--port", port, f"a port from 1 to {_HIGHEST_PORT}, the trust page takes the next one"
    )


def _other_than_kept(kept: Address, found: Address) -> OutOfRange:
    field, value, allowed = (
        ("--name", found.name, kept.name)
        if found.name != kept.name
        else ("--port", str(found.port), str(kept.port))
    )
    return OutOfRange(
        field, value, f"{allowed}, under which the phones know this shop; {_WHAT_A_CHANGE_DOES}"
    )


def _move_aside(folder: Path, now: datetime) -> None:
    """Keep what belongs to the old name, in one step: a cut never leaves half of it."""
    stamp = now.strftime("%Y%m%dT%H%M%SZ")
    folder.rename(folder.with_name(f"{folder.name}-until-{stamp}"))
    sync_folder(folder.parent)


def _file(folder: Path) -> Path:
    return folder / "address.json"
