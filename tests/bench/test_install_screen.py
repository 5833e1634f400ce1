"""Tabs, windows and the installed app: where the app only looks, warns, or stops; and why."""

import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from companion.lan import leaf
from companion.lan.authority import established
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.bench.shop import (
    REFUSED,
    keep_for_good,
    pair,
    pairing_code,
    phone_options,
)
from tests.faulty_line import FaultyLine
from tests.lan.network import LanServer, browser_options, home
from tests.running import RunningServer
from tests.web.test_accessibility import TAGS, findings

IPHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 "
    "(KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1"
)
FIREFOX = "Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0"
LINUX = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"
WEIGHING = ["weigh/{}", "cans/a/{}", "scrap/{}", "crew/phone", "start", "scan", "type", "found/{}"]


def of_the_shop(
    make_phone: MakePhone, shop: LanServer, folder: Path, *, installed: bool, **more: object
) -> Phone:
    phone = make_phone(shop, **phone_options(shop, folder, installed=installed, **more))
    phone.expect_complaint(REFUSED)
    return phone


@pytest.fixture
def tab(shop: LanServer, make_phone: MakePhone, tmp_path: Path) -> Phone:
    """A tab of a browser that has promised nothing."""
    return of_the_shop(make_phone, shop, tmp_path / "home", installed=False).open()


def test_a_tab_that_is_not_kept_only_looks(
    own_shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    # Paired and used as an app; then the same storage is opened in a tab.
    phone = of_the_shop(make_phone, own_shop, tmp_path / "home", installed=True)
    pair(phone, pairing_code(own_shop))
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    rows = phone.rows()
    phone.switch_off()
    tab = of_the_shop(make_phone, own_shop, tmp_path / "tab", installed=False)
    tab.switch_off()
    tab.profile = phone.profile
    tab.switch_on()
    tab.open()
    tab.does_say("Here you can only look. To weigh, install the app.")
    # The list is there; a tap leads to installing.
    tab.take("ply 1")
    expect(tab.page.locator("h1")).to_have_text("Install the app")
    tab.does_say("Nothing is weighed in this tab")
    for address in WEIGHING:
        tab.open(f"#/{address.format(code)}")
        expect(tab.page.locator("h1")).to_have_text("Install the app")
    tab.open("#/pair")
    expect(tab.page.locator("h1")).to_have_text("Install the app")
    # What only shows is there, and the log can be had.
    tab.open(f"#/story/{code}")
    tab.does_say("Display after empty cup")
    expect(tab.page.get_by_role("button", name="Add a note")).to_have_count(0)
    tab.open("#/phone")
    with tab.page.expect_download():
        tab.page.get_by_role("button", name="Share the log").tap()
    assert tab.rows() == rows


def test_a_kept_tab_weighs_after_a_warning_that_was_accepted(
    own_shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    tab = of_the_shop(make_phone, own_shop, tmp_path / "home", installed=False).open()
    keep_for_good(tab)
    tab.open("#/pair")
    stop = tab.page.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("Only a browser tab")
    tab.answer("Install the app")
    expect(tab.page.locator("h1")).to_have_text("Install the app")
    assert tab.fact("tab_warned") is None
    tab.open("#/pair")
    tab.answer("Weigh in this tab all the same")
    expect(tab.page.get_by_label("Pairing code")).to_be_visible()
    pair(tab, pairing_code(own_shop))
    tab.take("ply 1")
    tab.say_who()
    tab.read("8.4")
    assert len(tab.rows()) == 2
    expect(stop).to_have_count(0)
    # A browser that keeps its word no longer: the warning of then does not help.
    tab.switch_off()
    tab.switch_on()
    tab.open("#/start")
    expect(tab.page.locator("h1")).to_have_text("Install the app")


@pytest.mark.parametrize(
    ("agent", "says"),
    [
        ("", "Tap Add to Home screen, then Install."),
        (IPHONE, "Scroll down and tap Add to Home Screen."),
        (FIREFOX, "Tap Add app to Home screen, or Install."),
        (LINUX, "Look for the sign Install at the end of the address bar"),
    ],
    ids=["android", "iphone", "firefox on android", "desktop"],
)
def test_it_is_told_how_this_kind_of_phone_installs(
    shop: LanServer, make_phone: MakePhone, tmp_path: Path, agent: str, says: str
) -> None:
    named = {"user_agent": agent} if agent else {}
    tab = of_the_shop(make_phone, shop, tmp_path / "home", installed=False, **named)
    # Only some browsers offer to install; the words are for where they do not.
    tab.page.add_init_script(
        "addEventListener('beforeinstallprompt', (offer) => offer.stopImmediatePropagation())"
    )
    if agent == IPHONE:
        # Whatever the browser promises: such a tab is cleared after seven days.
        tab.open()
        keep_for_good(tab)
    tab.open("#/start")
    tab.does_say(says)
    tab.does_say("Nothing is weighed in")


def test_the_offer_of_the_browser_is_kept_and_shown(
    shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    tab = of_the_shop(
        make_phone,
        shop,
        tmp_path / "home",
        installed=False,
        flags=["--bypass-app-banner-engagement-checks"],
    ).open("#/install")
    button = tab.page.get_by_role("button", name="Install", exact=True)
    expect(button).to_be_visible(timeout=15_000)
    tab.does_say("Tap Install below and say yes.")


def test_the_answer_to_keeping_the_storage_is_shown(
    shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    phone = of_the_shop(make_phone, shop, tmp_path / "home", installed=True).open("#/phone")
    phone.does_say("This phone refused to promise that it keeps the log.")
    phone.comes_to_know("persisted", False)
    keep_for_good(phone)
    phone.page.reload()
    phone.does_say("kept for good")
    expect(phone.page.locator("#screen")).not_to_contain_text("refused to promise")
    phone.page.wait_for_function("document.documentElement.dataset.started")
    expect(phone.page.locator("dd", has_text="kept for good")).to_be_visible()
    phone.comes_to_know("persisted", True)


def test_a_private_window_only_looks(trusting: Browser, shop: LanServer) -> None:
    # A context beside the persistent one is off the record.
    context = trusting.new_context(locale="en-GB")
    page = context.new_page()
    page.goto(f"{shop.url}/bench/#/pair")
    expect(page.locator("h1")).to_have_text("Install the app")
    expect(page.locator("body")).to_contain_text("a private window never does")
    context.close()


@pytest.fixture(scope="module")
def trusting(
    playwright: Playwright,
    chromium: str,
    shop: LanServer,
    tmp_path_factory: pytest.TempPathFactory,
):
    """A Chromium that trusts the shop."""
    folder = home(tmp_path_factory.mktemp("trusting"), shop.authority)
    running = playwright.chromium.launch(
        executable_path=chromium, **browser_options(folder, shop.name)
    )
    yield running
    running.close()


def test_a_warning_clicked_away_stops_the_app(
    playwright: Playwright, chromium: str, shop: LanServer, tmp_path: Path
) -> None:
    options = browser_options(home(tmp_path / "doubting"), shop.name)
    browser = playwright.chromium.launch(executable_path=chromium, **options)
    try:
        page = browser.new_context(ignore_https_errors=True, locale="en-GB").new_page()
        for address in ("", "#/start", "#/weigh/7K2QMS", "#/phone"):
            page.goto(f"{shop.url}/bench/{address}")
            expect(page.locator("h1")).to_have_text("Not trusted")
        page.evaluate("location.hash = '#/scan'")
        expect(page.locator("h1")).to_have_text("Not trusted")
        trust = page.get_by_role("link", name="Trust the shop")
        expect(trust).to_have_attribute("href", shop.said["trust_address"])
        follows_the_rules(page)
    finally:
        browser.close()


class LineUnderAnotherName(FaultyLine):
    """A line whose server believes that it was asked on its own machine."""

    def forward(self, request, body):  # type: ignore[no-untyped-def]
        own = f"127.0.0.1:{self.target_port}"
        request.headers.replace_header("Host", own)
        return super().forward(request, body)


def test_plain_http_stops_the_app(
    playwright: Playwright, chromium: str, server: RunningServer, tmp_path: Path
) -> None:
    with LineUnderAnotherName(server.port).running() as line:
        options = browser_options(home(tmp_path / "home"), "companion.test")
        browser = playwright.chromium.launch(executable_path=chromium, **options)
        try:
            page = browser.new_context(locale="en-GB").new_page()
            page.goto(f"http://companion.test:{line.port}/bench/#/start")
            expect(page.locator("h1")).to_have_text("Not a secure address")
            expect(page.locator("html[data-started]")).to_be_attached()
            follows_the_rules(page)
        finally:
            browser.close()


#: axe-core measures with styles of its own, which the policy of the page refuses.
MEASURING = "Applying inline style"


def follows_the_rules(page: Page) -> None:
    """The screen passes axe-core, with the AAA rule of contrast, at phone size, light and dark."""
    page.set_viewport_size({"width": 360, "height": 740})
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        rules = {"color-contrast-enhanced": {"enabled": True}}
        assert findings(page, {"runOnly": TAGS, "rules": rules}) == []
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0, "the page is wider than the screen"


def test_what_is_said_to_a_phone_follows_the_rules(
    own_shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    phone = of_the_shop(make_phone, own_shop, tmp_path / "home", installed=True).open()
    phone.expect_complaint(MEASURING)
    phone.does_say("This phone is not paired with the shop.")
    follows_the_rules(phone.page)
    phone.open("#/pair")
    phone.page.get_by_label("Pairing code").fill("ABC")
    phone.page.get_by_role("button", name="Pair", exact=True).tap()
    phone.does_say("A pairing code has 26 characters")
    follows_the_rules(phone.page)
    pair(phone, pairing_code(own_shop))
    phone.open("#/pair")
    follows_the_rules(phone.page)


DAY_MS = 24 * 3600 * 1000
#: A leaf lives 397 days.
LEAF_AGO = timedelta(days=400)


def move_clock(phone: Phone, ms: int) -> None:
    """Move the clock of the page; what the browser thinks of certificates stays as it is."""
    phone.page.add_init_script(
        f"""{{
          const Before = Date;
          Date = class extends Before {{
            constructor(...given) {{
              super(...(given.length ? given : [Before.now() + {ms}]));
            }}
            static now() {{ return Before.now() + {ms}; }}
          }};
        }}"""
    )
    phone.page.reload()


@contextmanager
def over_an_ended_certificate(shop: LanServer, folder: Path) -> Iterator[list[str]]:
    """The shop's address served with a leaf of its authority that ended days ago.

    :return: the requests that came through all the same.
    """
    asked: list[str] = []

    class Handler(BaseHTTPRequestHandler):
        def parse_request(self) -> bool:
            asked.append(str(self.raw_requestline))
            return False

    now = datetime.now(UTC)
    ended = folder / "ended"
    ended.mkdir()
    signed = leaf.issue(established(shop.folder, shop.name, now), shop.name, now - LEAF_AGO)
    leaf.write_pair(ended, signed)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(ended / leaf.CERTIFICATE, ended / leaf.KEY)
    served = ThreadingHTTPServer(("127.0.0.1", shop.port), Handler)
    served.socket = context.wrap_socket(served.socket, server_side=True)
    thread = threading.Thread(target=served.serve_forever, daemon=True)
    thread.start()
    try:
        yield asked
    finally:
        served.shutdown()
        served.server_close()


def test_the_end_of_the_certificate_is_named_as_the_cause(
    own_shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    phone = of_the_shop(make_phone, own_shop, tmp_path / "home", installed=True)
    pair(phone, pairing_code(own_shop))
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    until = phone.fact("bundle")["certificate_until"]
    own_shop.kill()
    with over_an_ended_certificate(own_shop, tmp_path) as asked:
        move_clock(phone, 398 * DAY_MS)
        words = "The certificate of the shop's server ended on "
        phone.does_say(words)
        phone.does_say("rows are sent when the office has renewed it")
        weighs_on(phone, words, until)
        assert asked == []


def weighs_on(phone: Phone, words: str, until: str) -> None:
    # Weighing goes on; of a lot that is out of date by then it speaks as ever.
    phone.take("ply 1")
    phone.say_who()
    phone.type("8.4")
    phone.page.locator(".read").tap()
    expect(phone.page.locator("dialog[open]")).to_contain_text("expired")
    assert len(phone.rows()) == 2
    phone.page.goto(f"{phone.url}/bench/?again#/phone")
    phone.does_say(words)
    assert until[:4] in phone.page.locator("#screen .warning", has_text=words).inner_text()


@pytest.mark.parametrize(
    ("days", "says"),
    [
        # The leaf was made today and begins a day before: 396 days are left.
        (396 - 50, "ends in 49 days."),
        (396 - 20, "ends in 19 days. It should have renewed itself. Tell the office."),
        (396 - 5, "ends in 4 days. Tell the office today"),
    ],
)
def test_the_coming_end_of_the_certificate_is_told(
    shop: LanServer, make_phone: MakePhone, tmp_path: Path, days: int, says: str
) -> None:
    phone = of_the_shop(make_phone, shop, tmp_path / "home", installed=True)
    pair(phone, pairing_code(shop, f"Bench {days}"), f"Bench {days}")
    move_clock(phone, days * DAY_MS)
    phone.open("#/phone")
    phone.does_say(says)


def test_rows_that_are_old_and_unsent_are_spoken_of_once_a_day(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    phone.expect_complaint(MEASURING)
    own_server.kill()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.open()
    expect(phone.page.locator(".alert")).to_have_count(0)
    move_clock(phone, 25 * 3600 * 1000)
    alert = phone.page.locator(".alert")
    expect(alert).to_contain_text("2 rows are on this phone only.")
    expect(alert.get_by_role("link", name="Send or share")).to_be_visible()
    follows_the_rules(phone.page)
    alert.get_by_role("button", name="Not today").tap()
    expect(alert).to_have_count(0)
    phone.page.reload()
    expect(phone.page.locator(".next-cups")).to_be_visible()
    expect(alert).to_have_count(0)
    move_clock(phone, DAY_MS)
    expect(alert).to_contain_text("2 rows are on this phone only.")
    own_server.start()
    phone.send_now()
    phone.open()
    expect(phone.page.locator(".next-cups")).to_be_visible()
    expect(alert).to_have_count(0)
