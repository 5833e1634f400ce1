"""Every page against axe-core's rules, light and dark, at phone and desktop size.

Source: WCAG 2.2 A and AA as axe-core checks them (library axe-playwright-python); the bench also
against the AAA contrast rule.
"""

from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.running import RunningServer

OFFICE = [
    "/",
    "/plan",
    "/labels",
    "/labels?what=blank&count=0&shown=1",
    "/labels?what=parts",
    "/labels?plan=none",
    "/jobs",
    "/new-job",
    "/jobs/14",
    "/trace",
    "/trace?code=HL-2291",
    "/trace?code=HRDZSM",
    "/exchange",
    "/aside",
    "/phones",
    "/materials",
    "/cards/system?code=RES-L%2BHRD-S",
    "/cards/system/edit?code=RES-L%2BHRD-S",
    "/cards/lot/edit?code=HL-2104",
    "/cards/scale/edit?code=S1",
    "/scales",
    "/people",
    "/people/people/new",
    "/none",
    "/cups/7K2QMS",
    "/C/7K2QMS",
]
BENCH = [
    "/bench/",
    "/bench/#/start",
    "/bench/#/air",
    "/bench/#/measure",
    "/bench/#/phone",
    "/bench/#/crew/phone",
    "/bench/#/scan",
    "/bench/#/type",
    "/bench/#/pair",
    "/bench/#/install",
    "/bench/#/found/HRD2SM",
    "/bench/#/found/9B3XWD",
    "/rescue",
]
SIZES = {"phone": {"width": 360, "height": 740}, "desktop": {"width": 1280, "height": 900}}
TAGS = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(params=["light", "dark"])
def scheme(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=SIZES)
def page(browser: Browser, scheme: str, request: pytest.FixtureRequest) -> Iterator[Page]:
    context = browser.new_context(
        viewport=SIZES[request.param],  # type: ignore[arg-type]
        color_scheme=scheme,  # type: ignore[arg-type]
        locale="en-GB",
    )
    yield context.new_page()
    context.close()


def findings(page: Page, options: dict[str, Any]) -> list[str]:
    result = Axe().run(page, options=options)
    return [
        f"{found['id']}: {node['target']}"
        for found in result.response["violations"]
        for node in found["nodes"]
    ]


@pytest.mark.parametrize("path", [*OFFICE, *BENCH])
def test_pages_hold_to_the_rules(server: RunningServer, page: Page, path: str) -> None:
    if path.startswith("/bench"):
        # A screen that gets the shop's cards while it is looked at is drawn twice.
        page.goto(f"{server.url}/bench/")
        page.locator(".next-cups .card").first.wait_for()
    page.goto(f"{server.url}{path}")
    if path.startswith("/bench"):
        page.locator("html[data-started]").wait_for(state="attached")
        page.locator("#screen h1").first.wait_for()
    rules = {"color-contrast-enhanced": {"enabled": path not in OFFICE}}
    assert findings(page, {"runOnly": TAGS, "rules": rules}) == []
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0, "the page is wider than the screen"


#: Pages that only longer words could push over the edge, beside those of every language.
GERMAN = [
    "/plan?system=SRF-A%2BSRF-B%401",
    "/cards/container?code=RES3LS",
    "/cards/container/edit",
    "/cards/container/edit?code=RES3LS",
    "/cards/lot?code=HL-2104",
    "/trace?code=RES3LS",
    "/materials/none",
]


def test_german_pages_fit_a_phone(server: RunningServer, browser: Browser) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 740}, locale="de-DE")
    page = context.new_page()
    wide = {}
    for path in [*OFFICE, *GERMAN]:
        page.goto(f"{server.url}{path}")
        assert page.locator("html").get_attribute("lang") == "de"
        wide[path] = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    context.close()
    assert {path: by_px for path, by_px in wide.items() if by_px > 0} == {}
