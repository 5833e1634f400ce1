"""Machines with networks of their own: namespaces of the kernel, joined by a cable (veth).

Nothing leaves them, so that names can be claimed and queries shouted freely. Needs util-linux and
iproute2, no rights.
"""

import json
import subprocess
import sys
from typing import Any

START = "echo ready; exec cat"


class Machine:
    """A network namespace, held by a process that waits.

    :param beside: a machine in whose user namespace this one lives, so that a cable can join them.
    """

    def __init__(self, beside: "Machine | None" = None) -> None:
        inside = ["unshare", "-n"] if beside else ["unshare", "-rn"]
        self.process = subprocess.Popen(
            [*(beside.enter if beside else []), *inside, "sh", "-c", START],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.process.stdout is not None
        if self.process.stdout.readline() != "ready\n":
            raise RuntimeError("this system gives no network namespaces to its users")
        self.run("ip", "link", "set", "lo", "up")

    @property
    def pid(self) -> str:
        return str(self.process.pid)

    @property
    def enter(self) -> list[str]:
        """What stands before a command that runs on this machine."""
        return ["nsenter", "-t", self.pid, "-U", "--preserve-credentials", "-n"]

    def run(self, *command: str) -> subprocess.CompletedProcess[str]:
        """Run a command here; its failure is one of the test."""
        return subprocess.run(
            [*self.enter, *command], check=True, capture_output=True, text=True, timeout=60
        )

    def start(self, *command: str) -> subprocess.Popen[str]:
        """Start Python with arguments here; its output can be read line by line."""
        return subprocess.Popen(
            [*self.enter, sys.executable, *command],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    def plug(self, device: str, address: str) -> None:
        """Give a device its address, as a router would, and let multicast through it."""
        self.run("ip", "address", "add", address, "dev", device)
        self.run("ip", "link", "set", device, "up", "multicast", "on")
        self.run("ip", "route", "replace", "224.0.0.0/4", "dev", device)

    def ask(self, name: str, through: str, *, unicast: str = "") -> list[dict[str, Any]]:
        """What is answered to one question for a name, as a phone asks it.

        :param through: address of the device the question goes out of.
        :param unicast: the one machine to ask; everybody on the wire where none is given.
        """
        said = self.run(sys.executable, "-m", "tests.lan.question", name, through, unicast)
        answers: list[dict[str, Any]] = json.loads(said.stdout)
        return answers

    def stop(self) -> None:
        """Unplug it."""
        self.process.communicate()


def cable(one: Machine, other: Machine, device: str) -> None:
    """A network of two: the same name of device on both ends."""
    one.run("ip", "link", "add", device, "type", "veth", "peer", "name", "far")
    one.run("ip", "link", "set", "far", "netns", other.pid)
    other.run("ip", "link", "set", "far", "name", device)
