"""The program behind a real nginx that speaks TLS for it, as DEVELOPERS.md describes."""

import http.client
import json
import os
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.app import open_store
from companion.config import Config
from companion.lan import authority, leaf
from companion.records import pairing, passphrase
from companion.web.headers import CONTENT_SECURITY_POLICY
from companion.web.state import now_utc
from companion.wire.digest import content_digest
from companion.wire.log_csv import write_log
from tests.running import free_port
from tests.sample_rows import row
from tests.web.rights import PASSPHRASE, PHONE_LOG

NAME = "shop.example"
TEMPLATE = Path(__file__).with_name("nginx.conf.template")
START_WITHIN_S = 20
APPLICATION = "companion.app:create_app"
GRANIAN = "--interface wsgi --factory --workers 1 --blocking-threads 4 --no-ws".split()


@dataclass(frozen=True)
class Front:
    """nginx, and the program behind it."""

    port: int
    behind: int
    trust: ssl.SSLContext
    token: str
    journal: Path

    def ask(
        self, method: str, path: str, body: bytes = b"", **headers: str
    ) -> tuple[int, http.client.HTTPMessage, bytes]:
        """Ask through nginx, with TLS."""
        line = http.client.HTTPSConnection("127.0.0.1", self.port, timeout=10)
        line.sock = self.trust.wrap_socket(
            socket.create_connection(("127.0.0.1", self.port), timeout=10), server_hostname=NAME
        )
        given = {"Host": f"{NAME}:{self.port}", "Origin": f"https://{NAME}:{self.port}"}
        given |= {name.replace("_", "-"): value for name, value in headers.items()}
        try:
            line.request(method, path, body=body or None, headers=given)
            answer = line.getresponse()
            return answer.status, answer.headers, answer.read()
        finally:
            line.close()

    def send(self, **headers: str) -> int:
        """Send a row as the paired phone."""
        text = write_log([row(1, log_id=PHONE_LOG)]).encode()
        sent = {"Content-Type": "text/csv", "Content-Digest": content_digest(text)}
        sent |= {"Row-Count": "1", "Authorization": f"Bearer {self.token}", **headers}
        return self.ask("POST", f"/api/v1/logs/{PHONE_LOG}/rows", text, **sent)[0]

    def last_asker(self) -> str:
        """Address the program took the last request to come from."""
        lines = self.journal.read_text(encoding="utf-8").splitlines()
        return str(json.loads(lines[-1])["from"])


@pytest.fixture(scope="module")
def front(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Front]:
    folder = tmp_path_factory.mktemp("front")
    port, behind = free_port(), free_port()
    (folder / "keys").mkdir()
    made = authority.make(NAME, datetime.now(UTC))
    (folder / "authority.pem").write_bytes(_pem(made))
    leaf.write_pair(folder / "keys", leaf.issue(made, NAME, datetime.now(UTC)))
    places = {
        "folder": folder,
        "port": port,
        "behind": behind,
        "name": NAME,
        "certificate": folder / "keys" / leaf.CERTIFICATE,
        "key": folder / "keys" / leaf.KEY,
    }
    text = TEMPLATE.read_text(encoding="utf-8")
    for name, value in places.items():
        text = text.replace(f"<{name}>", str(value))
    (folder / "nginx.conf").write_text(text, encoding="utf-8")
    nginx = shutil.which("nginx", path="/usr/sbin:/usr/bin:/sbin:/bin")
    assert nginx, "install nginx: see the test command in README.md"
    token = _shop(folder / "data")
    program = subprocess.Popen(
        [sys.executable, "-m", "granian", *GRANIAN, "--port", str(behind), APPLICATION],
        env={
            **os.environ,
            "COMPANION_DATA": str(folder / "data"),
            "COMPANION_DEMO": "1",
            "COMPANION_ADDRESS": f"https://{NAME}:{port}",
            "COMPANION_TRUSTED_HOPS": "1",
        },
        start_new_session=True,
    )
    front = subprocess.Popen([nginx, "-c", folder / "nginx.conf"], start_new_session=True)
    trust = ssl.create_default_context(cafile=folder / "authority.pem")
    made_front = Front(port, behind, trust, token, folder / "data/journal/requests.log")
    try:
        _wait(lambda: made_front.ask("GET", "/api/v1/health")[0] == 200)
        yield made_front
    finally:
        for process in (front, program):
            os.killpg(process.pid, signal.SIGTERM)
            process.wait(timeout=20)


def _pem(made: authority.Authority) -> bytes:
    return ssl.DER_cert_to_PEM_cert(made.der).encode()


def _shop(data: Path) -> str:
    store = open_store(Config(data, demo=True))
    passphrase.choose(store, PASSPHRASE, now_utc())
    code = pairing.ask_for(store, "bench phone", "", now_utc())
    made = pairing.pair(store, code, PHONE_LOG, now_utc())
    store.close()
    assert made is not None
    return made.token


def _wait(is_there: Callable[[], bool]) -> None:
    deadline = time.monotonic() + START_WITHIN_S
    while True:
        try:
            if is_there():
                return
        except (OSError, http.client.HTTPException):
            pass
        assert time.monotonic() < deadline, "nginx and the program did not answer"
        time.sleep(0.05)


@pytest.mark.parametrize(
    "path, status",
    [
        ("/login", 200),
        ("/phones", 302),
        ("/nowhere", 404),
        ("/static/style/office.css", 200),
        ("/static/nowhere.css", 404),
        ("/worker.js", 200),
        ("/api/v1/bundle", 401),
    ],
)
def test_every_answer_is_dressed_through_it(front: Front, path: str, status: int) -> None:
    found, headers, _ = front.ask("GET", path)
    assert found == status
    assert headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert headers.get_all("Content-Security-Policy") == [CONTENT_SECURITY_POLICY]


def test_a_phone_sends_and_the_office_comes_in(front: Front) -> None:
    assert front.send() == 200
    form = f"passphrase={PASSPHRASE.replace(' ', '+')}&then=/phones".encode()
    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    status, headers, _ = front.ask("POST", "/login", form, **kind)
    assert status == 303 and headers["Set-Cookie"].startswith("__Host-companion-")
    cookie = headers["Set-Cookie"].partition(";")[0]
    status, _, page = front.ask("GET", "/phones", Cookie=cookie)
    assert status == 200 and b"bench phone" in page
    # Links and redirects stay at the address of the shop.
    status, headers, _ = front.ask("GET", "/phones")
    assert headers["Location"].startswith("/login")


@pytest.mark.parametrize(
    "forged",
    [
        {"X_Forwarded_For": "203.0.113.9"},
        {"X_Forwarded_For": "203.0.113.9, 203.0.113.10"},
        {"Forwarded": "for=203.0.113.9"},
        {"X_Real_IP": "203.0.113.9"},
    ],
)
def test_an_asker_cannot_say_where_it_comes_from(front: Front, forged: dict[str, str]) -> None:
    assert front.ask("GET", "/api/v1/health", **forged)[0] == 200
    assert front.last_asker() == "127.0.0.1"


def test_it_cannot_say_another_host_or_scheme_either(front: Front) -> None:
    forged = {"X_Forwarded_Host": "elsewhere.example", "X_Forwarded_Proto": "http"}
    status, headers, _ = front.ask("GET", "/phones", **forged)
    assert status == 302 and headers["Location"].startswith("/login")


def test_a_foreign_name_is_not_answered(front: Front) -> None:
    with pytest.raises(http.client.RemoteDisconnected):
        front.ask("GET", "/api/v1/health", Host="elsewhere.example")
    # The right name with a wrong port reaches the program, which refuses it.
    assert front.ask("GET", "/api/v1/health", Host=f"{NAME}:1")[0] == 400


def test_past_the_proxy_nobody_is_let_in(front: Front) -> None:
    line = http.client.HTTPConnection("127.0.0.1", front.behind, timeout=10)
    line.request("GET", "/phones", headers={"Host": f"{NAME}:{front.port}"})
    answer = line.getresponse()
    assert (answer.status, b"TLS" in answer.read()) == (400, True)
    line.close()


def test_both_limits_of_a_body_hold(front: Front) -> None:
    # Its own, before the program sees anything; and ours, as a page.
    assert front.ask("POST", "/import", b"x" * (32 * 1024 * 1024 + 1))[0] == 413
    status, headers, page = front.ask("POST", "/login", b"x" * (1024 * 1024 + 1))
    assert (status, headers.get_content_type()) == (413, "text/html") and b"too large" in page
    token = {"Authorization": f"Bearer {front.token}", "Content-Type": "text/csv"}
    path = f"/api/v1/logs/{PHONE_LOG}/rows"
    status, headers, _ = front.ask("POST", path, b"x" * (256 * 1024 + 1), **token)
    # Ours, as a problem that the phone understands.
    assert (status, headers["Content-Type"]) == (413, "application/problem+json")
