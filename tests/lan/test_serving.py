"""``serve --lan`` for real: TLS, browsers, signals, renewal."""

import signal
import socket
import ssl
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from cryptography import x509
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Page, Playwright

from companion.certificate import fingerprint, read
from companion.lan import authority as authorities
from companion.lan import leaf
from tests.lan.network import NAME, LanServer, browser_options, free_pair, home


def handshake(server: LanServer, *options: str) -> subprocess.CompletedProcess[str]:
    """One TLS handshake of OpenSSL's own client, verified against the authority."""
    return subprocess.run(
        [
            *("openssl", "s_client", "-brief", "-connect", f"127.0.0.1:{server.port}"),
            *("-servername", server.name, "-verify_hostname", server.name),
            *("-CAfile", str(server.authority), "-verify_return_error", *options),
        ],
        input="",
        capture_output=True,
        text=True,
        timeout=20,
        check=False,
    )


# Source: RFC 8996 (TLS 1.0 and 1.1 are not to be used). The client of OpenSSL 3 offers 1.1 only
# at security level 0.
@pytest.mark.parametrize("version", ["-tls1", "-tls1_1"])
def test_it_refuses_old_tls(lan_server: LanServer, version: str) -> None:
    done = handshake(lan_server, version, "-cipher", "ALL@SECLEVEL=0")
    assert done.returncode != 0
    # The client did offer it: the refusal is an alert of the server.
    assert "SSL alert number" in done.stderr, done.stderr


@pytest.mark.parametrize(("version", "said"), [("-tls1_2", "TLSv1.2"), ("-tls1_3", "TLSv1.3")])
def test_it_speaks_new_tls(lan_server: LanServer, version: str, said: str) -> None:
    done = handshake(lan_server, version)
    assert done.returncode == 0, done.stderr
    assert said in done.stderr and "Verification: OK" in done.stderr


def test_it_says_where_in_one_line(lan_server: LanServer) -> None:
    said = lan_server.said
    assert said["address"] == lan_server.url == f"https://companion.test:{lan_server.port}"
    assert said["trust_address"] == lan_server.trust_url
    assert said["name"] == "companion.test"
    assert said["data"] == str(lan_server.data_dir)
    assert said["demo"] is True
    authority = read(lan_server.authority)
    assert authority is not None and said["fingerprint"] == fingerprint(authority)
    until = datetime.fromisoformat(said["certificate_until"])
    assert timedelta(days=390) < until - datetime.now(UTC) <= timedelta(days=397)


def test_only_the_serving_user_may_read_what_it_writes(lan_server: LanServer) -> None:
    for path in [lan_server.data_dir, *lan_server.data_dir.rglob("*")]:
        assert path.stat().st_mode & 0o077 == 0, path


def test_it_answers_to_its_name_and_no_other(lan_server: LanServer) -> None:
    assert lan_server.get("/bench/").status == 200
    for host in ("127.0.0.1", f"127.0.0.1:{lan_server.port}", "companion.test", "evil.test"):
        assert lan_server.get("/bench/", Host=host).status == 400


def test_plain_http_on_its_port_gets_nothing(lan_server: LanServer) -> None:
    with socket.create_connection(("127.0.0.1", lan_server.port), timeout=10) as line:
        line.sendall(f"GET / HTTP/1.1\r\nHost: {lan_server.name}\r\n\r\n".encode())
        try:
            answer = line.recv(4096)
        except ConnectionResetError:
            answer = b""
    assert b"HTTP/" not in answer


def test_a_browser_that_trusts_runs_the_app(lan_server: LanServer, trusting_page: Page) -> None:
    trusting_page.goto(f"{lan_server.url}/bench/")
    ready = "navigator.serviceWorker.ready.then((found) => found.active.scriptURL)"
    assert trusting_page.evaluate(ready) == f"{lan_server.url}/worker.js"
    assert trusting_page.evaluate("isSecureContext") is True


def test_a_browser_that_does_not_trust_refuses(lan_server: LanServer, doubting_page: Page) -> None:
    with pytest.raises(PlaywrightError, match="ERR_CERT_AUTHORITY_INVALID"):
        doubting_page.goto(f"{lan_server.url}/bench/")


def test_connections_that_stall_hold_nobody_up(lan_server: LanServer) -> None:
    stalled = [socket.create_connection(("127.0.0.1", lan_server.port)) for _ in range(10)]
    try:
        started = time.monotonic()
        assert lan_server.get("/api/v1/health").status == 200
        assert time.monotonic() - started < 1
    finally:
        for line in stalled:
            line.close()


@pytest.fixture
def own_lan_server(tmp_path: Path) -> Iterator[LanServer]:
    """A shop of one test, to be stopped, killed and started again."""
    running = LanServer(tmp_path / "data").start()
    yield running
    running.kill()


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_it_stops_in_order_although_connections_stall(
    own_lan_server: LanServer, number: int
) -> None:
    server = own_lan_server
    stalled = [socket.create_connection(("127.0.0.1", server.port)) for _ in range(3)]
    kept = server.connect()
    server.signal(number)
    assert server.ended() == 0
    assert not server.answers()
    assert "Traceback" not in server.log.read_text()
    for line in [*stalled, kept]:
        line.close()


def test_a_killed_server_leaves_no_worker_behind(own_lan_server: LanServer) -> None:
    assert own_lan_server.process is not None
    own_lan_server.process.kill()
    own_lan_server.ended()
    deadline = time.monotonic() + 15
    while own_lan_server.answers() and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not own_lan_server.answers()


def served(server: LanServer) -> x509.Certificate:
    """The certificate a new connection is shown."""
    with server.connect() as line:
        shown = line.getpeercert(binary_form=True)
    assert shown
    return x509.load_der_x509_certificate(shown)


def days_left(certificate: x509.Certificate) -> float:
    return (certificate.not_valid_after_utc - datetime.now(UTC)) / timedelta(days=1)


def test_it_renews_while_it_serves_without_new_trust(own_lan_server: LanServer) -> None:
    server = own_lan_server
    now = datetime.now(UTC)
    authority = authorities.established(server.folder, server.name, now)
    short = leaf.issue(authority, server.name, now, timedelta(days=30))
    # A server that took up a leaf with 29 days left, and nobody looked at it since.
    before = served(server)
    assert server.process is not None
    process = server.process.pid
    leaf.write_pair(server.folder, short)
    server.signal(signal.SIGHUP)
    while (shown := served(server)) == before:
        assert server.get("/api/v1/health").status == 200
        time.sleep(0.05)
    assert shown != short.certificate and days_left(shown) > 390
    assert fingerprint(authority.certificate) == server.said["fingerprint"]
    assert server.process.pid == process and server.process.poll() is None
    assert server.said["certificate"] == str(server.folder / leaf.CERTIFICATE)


def test_a_start_renews_what_is_nearly_over_and_keeps_the_rest(tmp_path: Path) -> None:
    server = LanServer(tmp_path / "data")
    now = datetime.now(UTC)
    authority = authorities.established(server.folder, server.name, now)
    leaf.write_pair(server.folder, leaf.issue(authority, server.name, now, timedelta(days=60)))
    try:
        first = served(server.start())
        assert days_left(first) > 390
        assert server.said["fingerprint"] == authority.fingerprint
        server.kill()
        assert served(server.start()) == first
    finally:
        server.kill()


def test_a_leaf_for_another_name_is_refused_by_a_browser_that_trusts(
    tmp_path: Path, playwright: Playwright, chromium: str
) -> None:
    """Source: RFC 5280, 4.2.1.10; Chromium checks the constraint of a root it was given."""
    now = datetime.now(UTC)
    authority = authorities.established(tmp_path / "lan", NAME, now)
    trusting = browser_options(
        home(tmp_path / "home", tmp_path / "lan" / authorities.CERTIFICATE), NAME, "bank.example"
    )
    browser = playwright.chromium.launch(executable_path=chromium, **trusting)
    page = browser.new_page()
    try:
        for name, outcome in ((NAME, "ok"), ("bank.example", "ERR_CERT_INVALID")):
            signed = leaf.issue(authority, name, now)
            with serving(tmp_path, signed) as port:
                if outcome == "ok":
                    page.goto(f"https://{name}:{port}/")
                    continue
                with pytest.raises(PlaywrightError, match=outcome):
                    page.goto(f"https://{name}:{port}/")
    finally:
        browser.close()


@contextmanager
def serving(folder: Path, signed: leaf.Leaf) -> Iterator[int]:
    """An empty page over TLS with a certificate; its port."""
    leaf.write_pair(folder, signed)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(folder / leaf.CERTIFICATE, folder / leaf.KEY)
    server = ThreadingHTTPServer(("127.0.0.1", 0), EmptyPage)
    server.socket = context.wrap_socket(server.socket, server_side=True)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield server.server_address[1]
    server.shutdown()
    thread.join()
    server.server_close()


class EmptyPage(BaseHTTPRequestHandler):
    """Answers everything with nothing."""

    def do_GET(self) -> None:
        self.send_response(200)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def refused(*options: str, data: Path) -> tuple[int, str]:
    """Exit code and complaint of a start that fails."""
    done = subprocess.run(
        [sys.executable, "-m", "companion", "serve", "--demo", "--data", str(data), *options],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.stdout == "" and done.stderr.count("\n") == 1, done.stderr
    return done.returncode, done.stderr


def test_records_are_served_once(lan_server: LanServer) -> None:
    data = lan_server.data_dir
    for options in (["--lan"], ["--port", str(free_pair())]):
        code, said = refused(*options, data=data)
        assert code == 2
        assert f"--data {str(data)!r} is taken by a server that is running" in said


@pytest.mark.parametrize("taken", [0, 1])
def test_a_taken_port_is_one_plain_line_and_is_not_kept(tmp_path: Path, taken: int) -> None:
    port = free_pair()
    with socket.create_server(("0.0.0.0", port + taken)):
        code, said = refused("--lan", "--name", NAME, "--port", str(port), data=tmp_path)
    assert code == 1
    assert f"port {port + taken} is taken by another program" in said
    assert not (tmp_path / "lan").exists()


def test_another_address_than_the_kept_one_is_refused_and_changed_only_on_purpose(
    own_lan_server: LanServer,
) -> None:
    server = own_lan_server
    server.stop()
    code, said = refused("--lan", "--name", "other.test", data=server.data_dir)
    assert code == 2
    assert "--name is other.test: allowed is companion.test" in said
    assert "share its log as a file" in said and "--change-address" in said
    changed = LanServer(server.data_dir, name="other.test", options=("--change-address",))
    try:
        said_then = changed.start().said
        assert said_then["address"] == f"https://other.test:{changed.port}"
        assert said_then["fingerprint"] != server.said["fingerprint"]
        (aside,) = server.data_dir.glob("lan-until-*")
        kept = read(aside / authorities.CERTIFICATE)
        assert kept is not None and fingerprint(kept) == server.said["fingerprint"]
    finally:
        changed.kill()


def test_network_options_need_the_network(tmp_path: Path) -> None:
    code, said = refused("--name", NAME, data=tmp_path)
    assert code == 2 and "--name is companion.test: allowed is only together with --lan" in said
