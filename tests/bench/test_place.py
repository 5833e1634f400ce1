"""Where may be weighed, and what is most in need of a person: decisions of the phone, as tables."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.running import RunningServer

TAB = {"installed": False, "loopback": False, "ios": False, "kept": False, "warned": False}
IPHONE = "Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15"
MACINTOSH = "Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15"
ANDROID = "Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 Chrome/140.0.0.0 Mobile"
FIREFOX = "Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0"
LINUX = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"
NOW = "2026-03-10T12:00:00Z"
CALM = {
    "access": "",
    "problem": "",
    "certificate_ended": False,
    "unsent": 0,
    "oldest_at": "",
    "dismissed_on": "",
    "today": "2026-03-10",
    "looking": False,
    "never_paired": False,
}


@pytest.fixture(scope="module")
def page(server: RunningServer, browser: Browser) -> Iterator[Page]:
    # What a page may load and evaluate is for other tests to ask.
    page = browser.new_page(bypass_csp=True)
    page.goto(f"{server.url}/static/bench/place.js")
    yield page
    page.close()


def call(page: Page, module: str, name: str, *arguments: Any) -> Any:
    """Outcome of a function of the bench."""
    return page.evaluate(
        """async ([module, name, given]) => (await import(module))[name](...JSON.parse(given))""",
        [f"/static/bench/{module}.js", name, json.dumps(arguments)],
    )


@pytest.mark.parametrize(
    ("place", "ruling"),
    [
        ({"installed": True}, "weigh"),
        ({"installed": True, "ios": True}, "weigh"),
        ({"loopback": True}, "weigh"),
        ({"kept": True}, "warn"),
        ({"kept": True, "warned": True}, "weigh"),
        # A tab of an iPhone is cleared after seven days whatever it promised
        # (webkit.org/blog/10218).
        ({"ios": True, "kept": True, "warned": True}, "look"),
        ({"ios": True}, "look"),
        # A private window, or a browser that said no; a warning accepted before changes nothing.
        ({}, "look"),
        ({"warned": True}, "look"),
    ],
)
def test_it_rules_where_may_be_weighed(page: Page, place: dict[str, bool], ruling: str) -> None:
    assert call(page, "place", "ruling", {**TAB, **place}) == ruling


@pytest.mark.parametrize(
    ("agent", "touch_points", "platform"),
    [
        (IPHONE, 5, "ios"),
        # A tablet calls itself a Macintosh; that has no touch screen (from memory).
        (MACINTOSH, 5, "ios"),
        (MACINTOSH, 0, "desktop"),
        (ANDROID, 5, "android"),
        (FIREFOX, 5, "firefox_android"),
        (LINUX, 0, "desktop"),
    ],
)
def test_it_knows_the_kind_of_phone(
    page: Page, agent: str, touch_points: int, platform: str
) -> None:
    assert call(page, "place", "platformOf", agent, touch_points) == platform


@pytest.mark.parametrize(
    ("host", "own"),
    [
        ("127.0.0.1", True),
        ("127.1.2.3", True),
        ("localhost", True),
        ("shop.localhost", True),
        ("[::1]", True),
        ("companion.local", False),
        ("127.0.0.1.example.org", False),
        ("notlocalhost", False),
        ("192.168.1.5", False),
    ],
)
def test_it_knows_its_own_machine(page: Page, host: str, own: bool) -> None:
    assert call(page, "place", "isLoopback", host) is own


@pytest.mark.parametrize(
    ("situation", "alert"),
    [
        ({}, ""),
        ({"access": "not_paired"}, "not_paired"),
        ({"access": "other_log"}, "other_log"),
        ({"access": "not_paired", "looking": True}, "looking"),
        ({"access": "revoked", "looking": True, "unsent": 60}, "revoked"),
        ({"certificate_ended": True, "problem": "not_reached"}, "certificate_ended"),
        # The phone's clock may be wrong: while the shop answers, nothing has ended.
        ({"certificate_ended": True}, ""),
        ({"problem": "not_reached"}, ""),
        ({"unsent": 49, "oldest_at": "2026-03-09T12:00:00Z"}, ""),
        ({"unsent": 1, "oldest_at": "2026-03-09T11:59:59Z"}, "unsent"),
        ({"unsent": 50, "oldest_at": "2026-03-10T11:00:00Z"}, "unsent"),
        ({"unsent": 50, "oldest_at": NOW, "dismissed_on": "2026-03-10"}, ""),
        ({"unsent": 50, "oldest_at": NOW, "dismissed_on": "2026-03-09"}, "unsent"),
        ({"looking": True}, "looking"),
        ({"looking": True, "unsent": 50, "oldest_at": NOW}, "unsent"),
        ({"never_paired": True}, "never_paired"),
    ],
)
def test_it_says_one_thing_that_needs_a_person(
    page: Page, situation: dict[str, Any], alert: str
) -> None:
    now_ms = page.evaluate("(now) => Date.parse(now)", NOW)
    given = {**CALM, "now_ms": now_ms, **situation}
    assert call(page, "alerts", "alertOf", given) == alert


@pytest.mark.parametrize(
    ("until", "life"),
    [
        ("", (False, 0, 0)),
        (None, (False, 0, 0)),
        ("2026-05-10T12:00:00Z", (False, 61, 0)),
        ("2026-05-09T12:00:00Z", (False, 60, 60)),
        ("2026-04-09T12:00:00Z", (False, 30, 30)),
        ("2026-03-17T12:00:00Z", (False, 7, 7)),
        ("2026-03-10T12:00:01Z", (False, 0, 7)),
        ("2026-03-10T12:00:00Z", (True, 0, 7)),
        ("2025-03-10T12:00:00Z", (True, 0, 7)),
    ],
)
def test_it_knows_how_long_the_certificate_lasts(
    page: Page, until: str | None, life: tuple[bool, int, int]
) -> None:
    now_ms = page.evaluate("(now) => Date.parse(now)", NOW)
    found = call(page, "certificate", "certificateLife", until, now_ms)
    assert (found["ended"], found["days"], found["within"]) == life


CODE = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[:20] + "234567"


@pytest.mark.parametrize(
    ("typed", "code", "problem", "wrong"),
    [
        (CODE, CODE, "", ""),
        (CODE.lower(), CODE, "", ""),
        (f" {CODE[:5]}-{CODE[5:13]} {CODE[13:]}\n", CODE, "", ""),
        # A phone's keyboard may turn a hyphen into a dash; a copied text may hide a soft hyphen.
        (f"{CODE[:5]}\u2013{CODE[5:13]}\u00ad{CODE[13:]}", CODE, "", ""),
        (f"pair:{CODE}", CODE, "", ""),
        (CODE[:-1], "", "length", ""),
        (CODE + "A", "", "length", ""),
        ("", "", "length", ""),
        # 0, 1, 8 and 9 are no characters of base32 (RFC 4648, section 6).
        (CODE[:-1] + "0", "", "character", "0"),
        (CODE[:-1] + "8", "", "character", "8"),
        (CODE[:-1] + "Ä", "", "character", "Ä"),
    ],
)
def test_it_reads_a_typed_pairing_code(
    page: Page, typed: str, code: str, problem: str, wrong: str
) -> None:
    read = call(page, "pairing-code", "typedPairing", typed)
    assert (read["code"], read["problem"], read["wrong"]) == (code, problem, wrong)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (f"PAIR:{CODE}", CODE),
        (f"pair:{CODE}", ""),
        (f"PAIR:{CODE} ", ""),
        (f"PAIR:{CODE}\n", ""),
        (f"PAIR:{CODE[:-1]}", ""),
        (f"HTTPS://COMPANION.LOCAL/PAIR:{CODE}", ""),
        (CODE, ""),
        ("7K2QMS", ""),
    ],
)
def test_it_reads_a_scanned_pairing_code_in_its_one_form(page: Page, text: str, code: str) -> None:
    assert call(page, "pairing-code", "scannedPairing", text) == code
