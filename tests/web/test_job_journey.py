"""A job from its empty form to ordered cups at 360 px; then its pages against the rules.

Source of the rules: WCAG 2.2 A and AA as axe-core checks them (library axe-playwright-python).
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from companion.records.store import Store
from tests.running import RunningServer
from tests.trade.hatch import CLOTHS, WAX
from tests.web.cards import make_newest
from tests.web.test_accessibility import TAGS


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[RunningServer]:
    """A demo shop whose rolls and release agent are on record."""
    running = RunningServer(tmp_path / "data").start()
    store = Store(f"sqlite:///{tmp_path / 'data' / 'companion.sqlite3'}")
    make_newest(store, *CLOTHS.values(), WAX)
    store.close()
    yield running
    running.kill()


def keeps_the_rules(page: Page) -> None:
    # A page that was clicked to has its words before it has its style.
    page.wait_for_load_state("load")
    found = Axe().run(page, options={"runOnly": TAGS}).response["violations"]
    assert [(one["id"], one["nodes"][0]["target"]) for one in found] == [], page.url
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, page.url


def fill(page: Page) -> None:
    for label, value in (
        ("Job", "77"),
        ("Part", "hatch cover"),
        ("Area, m²", "0,34"),
        ("Length of a piece, m (optional)", "0.6"),
        ("Width of a piece, m (optional)", "0.5"),
        ("Resin by mass, per cent", "48"),
        ("Resin in the peel ply, g/m²", "40"),
        ("Left in brush and roller, g", "25"),
        ("Left in each cup, g", "8"),
        ("Surface coat, g/m²", "350"),
        ("Left in the tools of the coat, g", "10"),
    ):
        page.get_by_label(label, exact=True).fill(value)
    page.get_by_label("System", exact=True).select_option("RES-L+HRD-S")
    page.get_by_label("System of the surface coat (optional)").select_option("SRF-A+SRF-B")
    page.get_by_label("Release agent (optional)").select_option("WAX")


def test_from_an_empty_form_to_ordered_cups(shop: RunningServer, browser: Browser) -> None:
    # axe itself is a script: it runs where the page's own scripts may not.
    context = browser.new_context(viewport={"width": 360, "height": 740}, locale="en-GB")
    page = context.new_page()
    page.goto(f"{shop.url}/jobs")
    page.get_by_role("link", name="New job").click()
    fill(page)
    for number, (cloth, layers) in enumerate((("C400", "2"), ("C200", "1"), ("C200", "1")), 1):
        page.locator(f"#plies-{number}-cloth").select_option(cloth)
        page.locator(f"#plies-{number}-layers").fill(layers)
        if number < 3:
            page.get_by_role("button", name="Add a row").click()
    page.get_by_role("button", name="Up row 2").click()
    expect(page.locator("#plies-1-cloth")).to_have_value("C200")
    page.locator("#plies-2-layers").fill("nought")
    # The return key saves; it removes no row.
    page.locator("#plies-2-layers").press("Enter")
    expect(page.locator("#plies-2-layers-error")).to_contain_text("is not a figure")
    keeps_the_rules(page)
    page.locator("#plies-2-layers").fill("2")
    page.get_by_role("button", name="Save the job").click()
    expect(page.locator(".plan-cups tbody tr")).to_have_count(4)
    expect(page.locator(".plan-cups tbody tr").nth(1)).to_contain_text("146.4")
    page.get_by_label("What if the shop has").fill("30")
    page.get_by_role("button", name="Work out").click()
    expect(page.locator("main")).to_contain_text("106 g")
    keeps_the_rules(page)
    for end in ("cutting", "sheet"):
        page.goto(f"{shop.url}/jobs/77/{end}")
        keeps_the_rules(page)
    page.goto(f"{shop.url}/jobs/77")
    page.get_by_role("button", name="Order these cups").click()
    expect(page.locator("h1")).to_have_text("4 cups are planned")
    page.goto(f"{shop.url}/jobs")
    expect(page.locator("tbody tr", has_text="77")).to_contain_text("planned")
    context.close()
    looked_at_wide(shop, browser)


def looked_at_wide(shop: RunningServer, browser: Browser) -> None:
    """The same pages dark and wide."""
    size = {"width": 1280, "height": 900}
    context = browser.new_context(viewport=size, color_scheme="dark", locale="en-GB")  # type: ignore[arg-type]
    page = context.new_page()
    for path in ("/jobs", "/jobs/77?temperature=30", "/jobs/77/edit", "/jobs/77/cutting"):
        page.goto(f"{shop.url}{path}")
        keeps_the_rules(page)
    context.close()
