"""The name on the network, asked by a resolver that shares no code with the one that answers."""

import json
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from companion.lan import multicast
from companion.lan.multicast import own_addresses
from tests.lan.machines import Machine, cable
from tests.lan.network import free_pair

OFFICE, PHONE = "10.77.1.1", "10.77.1.2"
GUEST_OFFICE, GUEST_PHONE = "10.77.2.1", "10.77.2.2"


@pytest.fixture
def machines() -> Iterator[tuple[Machine, Machine]]:
    """The office computer and a phone, in two networks: the shop's and the guests'."""
    office = Machine()
    phone = Machine(beside=office)
    for device, here, there in (
        ("shop", OFFICE, PHONE),
        ("guests", GUEST_OFFICE, GUEST_PHONE),
    ):
        cable(office, phone, device)
        phone.plug(device, f"{there}/24")
        if device == "shop":
            office.plug(device, f"{here}/24")
    yield office, phone
    phone.stop()
    office.stop()


@pytest.fixture
def start(machines: tuple[Machine, Machine]) -> Iterator[Callable[..., subprocess.Popen[str]]]:
    """Programs that are ended with the test."""
    started: list[subprocess.Popen[str]] = []

    def run(machine: Machine, *command: str) -> subprocess.Popen[str]:
        started.append(machine.start(*command))
        return started[-1]

    yield run
    for process in started:
        process.kill()
        process.communicate()


def announce(
    start: Callable[..., subprocess.Popen[str]], machine: Machine, name: str = "companion.local"
) -> subprocess.Popen[str]:
    process = start(machine, "-m", "tests.lan.announce", name, "8443")
    assert process.stdout is not None
    assert process.stdout.readline() == "answering\n"
    return process


def asked_until(ask: Callable[[], list[dict[str, Any]]], wanted: list[str]) -> None:
    """Ask again until the answer is the wanted one."""
    deadline = time.monotonic() + 20
    while (found := [one["addresses"] for one in ask()]) != ([wanted] if wanted else []):
        assert time.monotonic() < deadline, found


def test_a_phone_is_told_the_address_it_can_reach(
    machines: tuple[Machine, Machine], start: Callable[..., subprocess.Popen[str]]
) -> None:
    office, phone = machines
    announce(start, office)
    (answer,) = phone.ask("companion.local", PHONE)
    # Source: RFC 6762, 6.7: a simple resolver gets its own id back, and a short life.
    assert answer["is_ours"] and answer["ttl_s"] <= 10
    assert answer["name"] == "companion.local."
    assert answer["addresses"] == [OFFICE] and answer["from"] == OFFICE
    (answer,) = phone.ask("companion.local", PHONE, unicast=OFFICE)
    assert answer["addresses"] == [OFFICE]
    assert phone.ask("other.local", PHONE) == []


def test_it_follows_the_networks_of_the_machine(
    machines: tuple[Machine, Machine], start: Callable[..., subprocess.Popen[str]]
) -> None:
    office, phone = machines
    announcing = announce(start, office)
    office.plug("guests", f"{GUEST_OFFICE}/24")
    asked_until(lambda: phone.ask("companion.local", GUEST_PHONE), [GUEST_OFFICE])
    # Each network is told its own address, and that one alone, whoever of the two listens.
    for _ in range(4):
        assert [one["addresses"] for one in phone.ask("companion.local", PHONE)] == [[OFFICE]]
        (answer,) = phone.ask("companion.local", GUEST_PHONE)
        assert answer["addresses"] == [GUEST_OFFICE]
    office.run("ip", "address", "del", f"{OFFICE}/24", "dev", "shop")
    office.plug("shop", "10.77.1.9/24")
    asked_until(lambda: phone.ask("companion.local", PHONE), ["10.77.1.9"])
    announcing.communicate(timeout=20)
    assert announcing.returncode == 0
    asked_until(lambda: phone.ask("companion.local", PHONE), [])


def test_a_name_somebody_else_has_is_refused_before_anything_is_kept(
    machines: tuple[Machine, Machine],
    start: Callable[..., subprocess.Popen[str]],
    tmp_path: Path,
) -> None:
    office, phone = machines
    announce(start, phone)
    serve = start(office, "-m", "companion", "serve", "--lan", "--demo", "--data", str(tmp_path))
    out, err = serve.communicate(timeout=60)
    assert (serve.returncode, out) == (2, "")
    assert "--name 'companion.local' is taken by" in err and PHONE in err
    assert err.count("\n") == 1
    assert not (tmp_path / "lan").exists()


def test_the_server_answers_for_its_name(
    machines: tuple[Machine, Machine],
    start: Callable[..., subprocess.Popen[str]],
    tmp_path: Path,
) -> None:
    """Two shops side by side in one network, and one that is stopped takes its name back."""
    office, phone = machines
    announce(start, phone, "other.local")
    options = ["--lan", "--demo", "--json", "--data", str(tmp_path), "--port", str(free_pair())]
    serve = start(office, "-m", "companion", "serve", *options)
    assert serve.stdout is not None
    said = json.loads(serve.stdout.readline())
    assert said["name"] == "companion.local"
    asked_until(lambda: phone.ask(said["name"], PHONE), [OFFICE])
    serve.terminate()
    serve.communicate(timeout=60)
    assert serve.returncode == 0
    assert phone.ask(said["name"], PHONE) == []


def test_loopback_is_no_network() -> None:
    assert not [address for address in own_addresses() if address.startswith("127.")]


def test_it_looks_for_networks_every_ten_seconds() -> None:
    assert multicast.CHECK_EVERY_S == 10
