"""Answers for the shop's name on every network of this machine (multicast DNS, RFC 6762).

Each network gets a responder of its own, so that a phone is told the one address it can reach and
not that of another network of this machine.
"""

import socket
import sys
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from ipaddress import IPv4Address

import ifaddr
from zeroconf import (  # type: ignore[attr-defined]  # the resolver is not in its __all__
    AddressResolverIPv4,
    IPVersion,
    ServiceInfo,
    Zeroconf,
)
from zeroconf._utils import net

from ..errors import Taken

CHECK_EVERY_S = 10.0
#: How long others are listened for before the name counts as free; they answer within 0.5 s.
LISTEN_MS = 1200
#: Seconds an answer may be kept: short, for a computer that gets another number is looked for at
#: once. A simple resolver must not be told more (RFC 6762, 6.7).
KEPT_FOR_S = 10
_SERVICE = "_https._tcp.local."
#: Linux hands a socket what other sockets joined, unless told not to (ip(7)).
_IP_MULTICAST_ALL = 49

Addresses = Callable[[], frozenset[str]]


def own_addresses() -> frozenset[str]:
    """IPv4 addresses of this machine on its networks; loopback is none."""
    found = (
        str(held.ip) for adapter in ifaddr.get_adapters() for held in adapter.ips if held.is_IPv4
    )
    return frozenset(text for text in found if not IPv4Address(text).is_loopback)


class Announcer:
    """Answers for one name until closed; follows the addresses of this machine."""

    def __init__(self, name: str, port: int, addresses: Addresses = own_addresses) -> None:
        self._name = name
        self._port = port
        self._addresses = addresses
        self._responders: dict[str, Zeroconf] = {}
        self._warned: set[str] = set()
        _share_the_port_by_address_only()
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._follow, name="multicast", daemon=True)

    def start(self) -> None:
        """Begin to answer on every network.

        :raises Taken: another machine answers for the name.
        """
        try:
            self.refresh()
        except Taken:
            self.close()
            raise
        self._thread.start()

    def close(self) -> None:
        """Take the name back, so that nobody waits for an answer that does not come."""
        self._stopped.set()
        if self._thread.is_alive():
            self._thread.join()
        for address in list(self._responders):
            self._leave(address)

    @property
    def answering(self) -> frozenset[str]:
        """Addresses the name leads to now, one of each network."""
        return frozenset(self._responders)

    def refresh(self) -> None:
        """Leave networks that are gone and answer on those that came.

        :raises Taken: another machine answers for the name on one that came.
        """
        wanted = self._addresses()
        for address in self.answering - wanted:
            self._leave(address)
        came = sorted(wanted - self.answering)
        if came:
            # Each listens for a while first; a machine with many networks must not add that up.
            with ThreadPoolExecutor(len(came)) as pool:
                list(pool.map(lambda address: self._join(address, wanted), came))

    def _follow(self) -> None:
        while not self._stopped.wait(CHECK_EVERY_S):
            try:
                self.refresh()
            except Exception as error:
                # A network may have the name already, or go while it is looked at. Whatever it
                # was, the others are served on, and the next look finds what has changed.
                self._warn(str(error) or repr(error))

    def _warn(self, text: str) -> None:
        """Say it once, not at every check."""
        if text not in self._warned:
            self._warned.add(text)
            print(f"companion serve: {text}", file=sys.stderr, flush=True)

    def _join(self, address: str, own: frozenset[str]) -> None:
        try:
            responder = Zeroconf(interfaces=[address], ip_version=IPVersion.V4Only)
        except OSError as error:
            # Perhaps the network went while it was being joined; the next check tries again.
            self._warn(f"{self._name} is not answered on {address}: {error}")
            return
        try:
            self._announce(responder, address, own)
        except BaseException:
            responder.close()
            raise
        self._responders[address] = responder

    def _announce(self, responder: Zeroconf, address: str, own: frozenset[str]) -> None:
        _listen_to_own_network(responder)
        if others := _who_answers(responder, self._name) - own:
            raise Taken("--name", self._name, f"{', '.join(sorted(others))} on this network")
        # Another network of this machine may reach the same wire: the same name is no clash.
        responder.register_service(self._info(address), cooperating_responders=True)

    def _leave(self, address: str) -> None:
        self._responders.pop(address).close()

    def _info(self, address: str) -> ServiceInfo:
        return ServiceInfo(
            _SERVICE,
            f"Scale Companion {self._name.partition('.')[0]}.{_SERVICE}",
            port=self._port,
            addresses=[socket.inet_aton(address)],
            server=f"{self._name}.",
            host_ttl=KEPT_FOR_S,
        )


def _who_answers(responder: Zeroconf, name: str) -> frozenset[str]:
    """Addresses others give for the name, by asking the network."""
    asked = AddressResolverIPv4(f"{name}.")
    asked.request(responder, LISTEN_MS)
    return frozenset(asked.parsed_addresses(IPVersion.V4Only))


def _share_the_port_by_address_only() -> None:
    """Have the library leave SO_REUSEPORT away on Linux, where SO_REUSEADDR shares the port.

    With it the kernel hands each question to one of our responders by chance, even to that of
    another network, which then tells an address the asker cannot reach.
    """
    if sys.platform == "linux":
        net.set_so_reuseport_if_available = lambda s: None


def _listen_to_own_network(responder: Zeroconf) -> None:
    if sys.platform != "linux":
        return
    for reader in responder.engine.readers:
        reader.sock.setsockopt(socket.IPPROTO_IP, _IP_MULTICAST_ALL, 0)
