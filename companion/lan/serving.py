"""Serving the shop's network: the application over TLS, its trust page, its name, its renewals.

Name, trust page and renewal are threads of this process. The application runs in a process of its
own that is spawned, not forked: a fork would copy the locks of these threads as they happen to be.
"""

import multiprocessing
import os
import signal
import socket
import sys
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from granian import Granian
from granian.constants import Interfaces, SSLProtocols
from granian.log import LogLevels
from granian.server.common import AbstractServer

from ..certificate import certificate_until
from ..config import Config
from ..records import one_time, passphrase
from ..records.store import Store
from ..trade.times import format_utc
from ..web.trust import Trust
from . import address as addresses
from . import leaf, terminal
from .address import Address
from .authority import Authority, established
from .multicast import Announcer
from .renewal import Renewal, now_utc
from .trusting import TrustServer

FOLDER = "lan"
#: Seconds the old worker goes on beside the new one after a renewal: slow machines start slowly.
SIDE_BY_SIDE_S = 15.0
#: Seconds a worker that was told to end may take for its last answers.
LAST_ANSWERS_S = 10
EVERY_NETWORK = "0.0.0.0"


@dataclass(frozen=True, slots=True)
class Wish:
    """What was asked for on the command line.

    :ivar name: DNS name of the shop; None takes the kept one.
    :ivar port: port over TLS; None takes the kept one.
    :ivar change_address: leave the kept address.
    :ivar as_json: say where in one line for programs.
    """

    name: str | None = None
    port: int | None = None
    change_address: bool = False
    as_json: bool = False


def serve(config: Config, wish: Wish) -> int:
    """Serve until told to stop.

    :return: 0 when it was told to stop, 1 when the application ended by itself.
    :raises OSError: a port is taken.
    :raises CompanionError: the address is refused, or the certificates are not usable.
    """
    _end_in_order()
    folder = config.data_dir / FOLDER
    address = addresses.wanted(
        folder,
        wish.name,
        wish.port,
        default_port=addresses.DEMO_PORT if config.demo else addresses.DEFAULT_PORT,
        change=wish.change_address,
    )
    for port in (address.port, address.trust_port):
        require_free(port)
    with ExitStack() as running:
        networks = running.enter_context(_answering(address))
        addresses.keep(folder, address, now_utc())
        authority = established(folder, address.name, now_utc())
        renewal = running.enter_context(closing(Renewal(folder, authority, address.name)))
        renewal.prepare()
        trust = Trust(
            address.url, address.trust_url, authority.der, authority.fingerprint, config.demo
        )
        running.enter_context(closing(TrustServer(trust, EVERY_NETWORK, address.trust_port)))
        _tell_worker(config, address, folder / leaf.CERTIFICATE)
        server = _server(folder, address.port)
        # SIGHUP, too, looks at the certificate before the next worker reads it.
        server.on_reload(renewal.renew)
        renewal.watch(server.signal_handler_reload)
        terminal.say(_notice(config, address, authority, networks), as_json=wish.as_json)
        return _run(server)


def _end_in_order() -> None:
    """From now on a signal unwinds what was started; later the server handles them itself."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: sys.exit(0))


def require_free(port: int, address: str = EVERY_NETWORK) -> None:
    """Refuse a port somebody listens on; the server itself would share it without a word.

    :raises OSError: it is taken, or this user may not have it.
    """
    with socket.socket() as probe:
        if os.name != "nt":
            # Connections of the last run that linger are no hindrance.
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((address, port))
        except PermissionError as error:
            raise OSError(f"port {port} needs rights that this user does not have") from error
        except OSError as error:
            raise OSError(f"port {port} is taken by another program") from error


@contextmanager
def _answering(address: Address) -> Iterator[frozenset[str] | None]:
    """Answer for the name; None where the router must."""
    if not address.is_multicast:
        yield None
        return
    with closing(Announcer(address.name, address.port)) as announcer:
        announcer.start()
        yield announcer.answering


def _tell_worker(config: Config, address: Address, certificate: Path) -> None:
    """Settings of this run, as the worker reads them."""
    os.environ["COMPANION_DATA"] = str(config.data_dir.absolute())
    os.environ["COMPANION_DEMO"] = "1" if config.demo else "0"
    os.environ["COMPANION_ADDRESS"] = address.url
    os.environ["COMPANION_TRUST_ADDRESS"] = address.trust_url
    os.environ["COMPANION_CERTIFICATE"] = str(certificate.absolute())


def _server(folder: Path, port: int) -> AbstractServer[Any]:
    multiprocessing.set_start_method("spawn", force=True)
    return Granian(
        "companion.lan.worker:create_intake",
        factory=True,
        address=EVERY_NETWORK,
        port=port,
        interface=Interfaces.ASGINL,
        workers=1,
        websockets=False,
        respawn_interval=SIDE_BY_SIDE_S,
        workers_kill_timeout=LAST_ANSWERS_S,
        ssl_cert=folder / leaf.CERTIFICATE,
        ssl_key=folder / leaf.KEY,
        ssl_protocol_min=SSLProtocols.tls12,
        log_enabled=True,
        log_level=LogLevels.warning,
    )


def _notice(
    config: Config, address: Address, authority: Authority, networks: frozenset[str] | None
) -> terminal.Notice:
    certificate = config.data_dir / FOLDER / leaf.CERTIFICATE
    until = certificate_until(certificate)
    assert until is not None
    return terminal.Notice(
        address=address,
        fingerprint=authority.fingerprint,
        certificate=certificate,
        certificate_until=until,
        authority_until=authority.certificate.not_valid_after_utc,
        data_dir=config.data_dir,
        first_code=_first_code(config),
        demo=config.demo,
        networks=networks,
    )


def _first_code(config: Config) -> str:
    """A code to set the passphrase with; empty where the office has one."""
    with closing(Store(config.database_url)) as store:
        if passphrase.is_set(store):
            return ""
        return one_time.make_console_code(store, format_utc(now_utc()))


def _run(server: AbstractServer[Any]) -> int:
    try:
        server.serve()
    except SystemExit as end:
        # The same signal may reach the worker first, and its end then counts as unexpected.
        if server.interrupt_signal:
            return 0
        return end.code if isinstance(end.code, int) else 1
    return 0
