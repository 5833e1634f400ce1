"""Released apps, run as they were, and what a person did on their screens.

The screens of an old app never change, so the way through them is written down here once and not
shared with the journeys of today's app.
"""

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from playwright.sync_api import Page, expect

GOLDEN = Path(__file__).parent
WHEELS = sorted(GOLDEN.glob("app-*/*.whl"))


def install(wheel: Path, folder: Path) -> Path:
    """Put a released program into a folder; the libraries are those of the tests."""
    options = ["--quiet", "--no-deps", "--no-index", "--disable-pip-version-check"]
    command = [sys.executable, "-m", "pip", "install", *options, "--target", str(folder)]
    subprocess.run([*command, str(wheel)], check=True, capture_output=True)
    return folder


def start_cup(page: Page, step: str) -> None:
    """Take a planned cup; say who weighs, on which scale, where that is asked."""
    page.evaluate("location.hash = '#/'")
    page.locator(".next-cups .card", has_text=step).first.tap()
    page.locator(".crew, .weigh").wait_for()
    if page.locator(".crew").count():
        for choice in ("O", "S1"):
            named = page.get_by_text(choice, exact=True)
            page.locator(".choice label", has=named).tap()
        page.locator(".crew .action").tap()
    page.locator(".weigh").wait_for()


def read(page: Page, figures: Sequence[str]) -> None:
    """Type readings, one after the other."""
    for figure in figures:
        for character in figure:
            page.locator(".keys .key").get_by_text(character, exact=True).tap()
        before = page.locator("#screen").inner_text()
        page.locator(".read").tap()
        expect(page.locator("#screen")).not_to_have_text(before, use_inner_text=True)


def open_hardener(page: Page, can: str) -> None:
    """Tap a can of hardener."""
    page.locator(".cans .card", has_text=can).tap()


def send(page: Page) -> None:
    """Send what is unsent with the page as it is: an update is looked for on a reload only."""
    page.evaluate("location.hash = '#/phone'")
    page.get_by_role("button", name="Send now").tap()
    expect(page.locator("dd").first).to_have_text("none", timeout=15_000)
