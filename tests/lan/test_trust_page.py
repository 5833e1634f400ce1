"""The trust page: what it hands out, what it refuses, and whether its check tells the truth."""

import hashlib
import plistlib
import re
import socket
import ssl
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from flask import Flask
from flask.testing import FlaskClient
from playwright.sync_api import Browser, Page, Playwright, expect
from werkzeug.test import TestResponse

from companion.app import create_trust_app
from companion.lan.trusting import TrustServer
from companion.web.trust import Trust
from tests.lan.network import LanServer, browser_options, free_pair, home

PAGES = ["/", "/android", "/iphone", "/computer"]
HOST = "companion.test:8444"
FINGERPRINT = ":".join(["AB"] * 16 + ["CD"] * 16)


@pytest.fixture
def pages() -> FlaskClient:
    """The page without a server."""
    facts = Trust(
        "https://companion.test:8443", f"http://{HOST}", b"\x30\x03der", FINGERPRINT, False
    )
    app: Flask = create_trust_app(facts)
    return app.test_client()


def get(pages: FlaskClient, path: str, **headers: str) -> TestResponse:
    return pages.get(path, headers={"Host": HOST, **headers})


@pytest.mark.parametrize(
    "path", [*PAGES, "/scale-companion.crt", "/none", "/static/trust/check.js"]
)
def test_every_answer_carries_the_policies(pages: FlaskClient, path: str) -> None:
    with get(pages, path) as answer:
        headers = answer.headers
    policy = dict(part.split(" ", 1) for part in headers["Content-Security-Policy"].split("; "))
    assert policy["default-src"] == policy["base-uri"] == policy["form-action"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == "'self'"
    assert policy["connect-src"] == "https://companion.test:8443"
    assert policy["frame-ancestors"] == "'none'"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert headers["Cache-Control"] == "no-store"
    # A browser keeps this by name and not by port: it would close the trust page for good.
    assert "Strict-Transport-Security" not in headers
    assert not [name for name, _ in headers if name.startswith(("Access-Control-", "Set-Cookie"))]


@pytest.mark.parametrize("path", PAGES)
def test_nothing_runs_or_looks_but_from_files(pages: FlaskClient, path: str) -> None:
    text = get(pages, path).text
    assert not re.search(r"<style|style=|\son\w+=|<script(?![^>]*\ssrc=)|javascript:", text)


# Source: ASVS 5.0, 4.1.2: an interface on plain HTTP is refused, never redirected.
@pytest.mark.parametrize(
    "path",
    [
        "/api/v1/health",
        "/api/v1/bundle",
        "/api/v1/pair",
        "/bench/",
        "/rescue",
        "/worker.js",
        "/trusted",
        "/login",
        "/C/7K2QMS",
        "/static/bench/main.js",
        "/static/worker.js",
        "/static/style/../bench/main.js",
        "/static/style/%2e%2e/worker.js",
        "/../pyproject.toml",
    ],
)
def test_nothing_of_the_application_is_here(
    pages: FlaskClient, lan_server: LanServer, path: str
) -> None:
    for method in ("GET", "POST"):
        answer = lan_server.trust(path, method)
        assert answer.status in (404, 405), (method, answer.status)
        assert "Location" not in answer.headers
    assert get(pages, path).status_code == 404


@pytest.mark.parametrize(
    "host", ["companion.test", "companion.test:8443", "evil.test:8444", "127.0.0.1:8444", ""]
)
def test_it_answers_to_its_name_and_no_other(pages: FlaskClient, host: str) -> None:
    assert get(pages, "/", Host=host).status_code == 400


AGENTS = {
    "Mozilla/5.0 (Linux; Android 14; Pixel 7) AppleWebKit/537.36": "/android",
    "Mozilla/5.0 (iPhone; CPU iPhone OS 17_5 like Mac OS X)": "/iphone",
    "Mozilla/5.0 (iPad; CPU OS 12_2 like Mac OS X)": "/iphone",
    "Mozilla/5.0 (Windows NT 10.0; Win64; x64)": "/computer",
    "": "/computer",
}


@pytest.mark.parametrize(("agent", "path"), AGENTS.items())
def test_it_guesses_the_phone_and_offers_every_other(
    pages: FlaskClient, agent: str, path: str
) -> None:
    text = get(pages, "/", **{"User-Agent": agent}).text
    assert re.findall(r'class="action" href="([^"]+)"', text) == [path]
    others = re.findall(r'class="second" href="([^"]+)"', text)
    assert sorted([path, *others]) == sorted(PAGES[1:])


@pytest.mark.parametrize("path", PAGES[1:])
def test_every_kind_is_told_the_five_steps(pages: FlaskClient, path: str) -> None:
    text = get(pages, path).text
    assert re.findall(r'class="step">(\d)<', text) == ["1", "2", "3", "4", "5"]
    assert text.count(":".join(["AB"] * 8)) == text.count(":".join(["CD"] * 8)) == 2
    assert 'href="https://companion.test:8443/bench/"' in text
    assert "scale-companion." in text


def test_it_speaks_german(pages: FlaskClient) -> None:
    by_browser = get(pages, "/iphone", **{"Accept-Language": "de-AT,de;q=0.9"}).text
    asked = get(pages, "/iphone?language=de").text
    for text in (by_browser, asked):
        assert '<html lang="de"' in text
    assert 'href="/?language=de"' in asked
    assert '<html lang="en"' in get(pages, "/iphone?language=xx").text


def test_the_certificate_comes_in_every_form(lan_server: LanServer) -> None:
    pem = lan_server.authority.read_text()
    der = ssl.PEM_cert_to_DER_cert(pem)
    as_der = lan_server.trust("/scale-companion.crt")
    assert as_der.headers["Content-Type"] == "application/x-x509-ca-cert"
    assert "scale-companion.crt" in as_der.headers["Content-Disposition"]
    assert as_der.body == der
    assert lan_server.trust("/scale-companion.pem").text.split() == pem.split()
    as_profile = lan_server.trust("/scale-companion.mobileconfig")
    assert as_profile.headers["Content-Type"] == "application/x-apple-aspen-config"
    whole = plistlib.loads(as_profile.body)
    assert whole["PayloadType"] == "Configuration" and whole["PayloadVersion"] == 1
    (certificate,) = whole["PayloadContent"]
    assert certificate["PayloadType"] == "com.apple.security.root"
    assert certificate["PayloadContent"] == der
    assert len({whole["PayloadUUID"], certificate["PayloadUUID"]}) == 2
    assert lan_server.trust("/scale-companion.mobileconfig").body == as_profile.body
    said = lan_server.said["fingerprint"].replace(":", "").lower()
    assert hashlib.sha256(as_der.body).hexdigest() == said


def test_the_application_tells_who_trusts_it_and_nothing_else(lan_server: LanServer) -> None:
    answer = lan_server.get("/trusted")
    assert (answer.status, answer.body) == (204, b"")
    assert answer.headers["Cross-Origin-Resource-Policy"] == "cross-origin"
    assert answer.headers["Cache-Control"] == "no-store"
    assert lan_server.get("/bench/").headers["Cross-Origin-Resource-Policy"] == "same-origin"


def test_a_browser_that_trusts_is_let_on(lan_server: LanServer, trusting_page: Page) -> None:
    page = trusting_page
    page.goto(f"{lan_server.trust_url}/android")
    expect(page.locator("#check")).to_have_attribute("data-state", "trusted")
    page.get_by_role("link", name="Go on").click()
    page.wait_for_url(f"{lan_server.url}/bench/**")
    assert page.evaluate("isSecureContext") is True


def test_a_browser_that_does_not_trust_is_told_so(
    lan_server: LanServer, doubting_page: Page
) -> None:
    page = doubting_page
    page.goto(f"{lan_server.trust_url}/android")
    expect(page.locator("#check")).to_have_attribute("data-state", "refused")
    expect(page.get_by_text("Not trusted yet.")).to_be_visible()
    expect(page.locator("#check a:visible")).to_have_count(0)
    page.get_by_role("button", name="Check again").click()
    expect(page.locator("#check")).to_have_attribute("data-state", "refused")


def test_a_shop_that_does_not_answer_is_told_apart(
    tmp_path: Path, playwright: Playwright, chromium: str
) -> None:
    """The port listens and says nothing, as on a stalled line; the clock is run forward."""
    port = free_pair()
    facts = Trust(
        f"https://companion.test:{port}", f"http://companion.test:{port + 1}", b"", "AB", False
    )
    server = TrustServer(facts, "127.0.0.1", port + 1)
    options = browser_options(home(tmp_path / "home"), "companion.test")
    browser = playwright.chromium.launch(executable_path=chromium, **options)
    page = browser.new_page(locale="en-GB")
    page.clock.install()
    with socket.create_server(("127.0.0.1", port)):
        page.goto(f"{facts.trust_address}/android")
        expect(page.locator("#check")).to_have_attribute("data-state", "checking")
        page.clock.run_for(9000)
        expect(page.locator("#check")).to_have_attribute("data-state", "silent")
    expect(page.get_by_text(f"did not answer at {facts.address}")).to_be_visible()
    browser.close()
    server.close()


SIZES = {"phone": {"width": 360, "height": 740}, "desktop": {"width": 1280, "height": 900}}
TAGS = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.mark.parametrize(
    ("size", "scheme", "state"),
    [
        ("phone", "light", "trusted"),
        ("phone", "dark", "refused"),
        ("desktop", "light", "refused"),
        ("desktop", "dark", "trusted"),
    ],
)
def test_pages_hold_to_the_rules(
    lan_server: LanServer, request: pytest.FixtureRequest, size: str, scheme: str, state: str
) -> None:
    """Source: WCAG 2.2 AA, and the AAA contrast rule, as axe-core checks them."""
    kind = "trusting_browser" if state == "trusted" else "doubting_browser"
    browser: Browser = request.getfixturevalue(kind)
    context = browser.new_context(
        viewport=SIZES[size],  # type: ignore[arg-type]
        color_scheme=scheme,  # type: ignore[arg-type]
        locale="de-DE",
    )
    page = context.new_page()
    for path in (*PAGES, "/none"):
        page.goto(f"{lan_server.trust_url}{path}")
        if path in PAGES[1:]:
            expect(page.locator("#check")).to_have_attribute("data-state", state)
        rules = {"color-contrast-enhanced": {"enabled": True}}
        found = Axe().run(page, options={"runOnly": TAGS, "rules": rules})
        assert [one["id"] for one in found.response["violations"]] == [], path
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0, path
    context.close()


def test_without_the_script_there_is_a_plain_link(
    lan_server: LanServer, doubting_browser: Browser
) -> None:
    context = doubting_browser.new_context(java_script_enabled=False, locale="en-GB")
    page = context.new_page()
    page.goto(f"{lan_server.trust_url}/iphone")
    expect(page.locator("#check a:visible")).to_have_attribute("href", f"{lan_server.url}/bench/")
    expect(page.get_by_text("do not click the warning away")).to_be_visible()
    context.close()
