"""A shop on its network that the tests of one module share."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright

from tests.lan.network import LanServer, browser_options, home


@pytest.fixture(scope="module")
def lan_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanServer]:
    """A running demo shop over TLS that tests may read from but must not stop."""
    running = LanServer(tmp_path_factory.mktemp("lan") / "data").start()
    yield running
    running.kill()


@pytest.fixture(scope="module")
def trusting_home(lan_server: LanServer, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The home folder of a browser that trusts the shop."""
    return home(tmp_path_factory.mktemp("trusting"), lan_server.authority)


@pytest.fixture(scope="module")
def trusting_browser(
    playwright: Playwright, chromium: str, lan_server: LanServer, trusting_home: Path
) -> Iterator[Browser]:
    """A Chromium that trusts the shop."""
    running = playwright.chromium.launch(
        executable_path=chromium, **browser_options(trusting_home, lan_server.name)
    )
    yield running
    running.close()


@pytest.fixture(scope="module")
def doubting_browser(
    playwright: Playwright,
    chromium: str,
    lan_server: LanServer,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Browser]:
    """A Chromium that was told nothing about the shop."""
    options = browser_options(home(tmp_path_factory.mktemp("doubting")), lan_server.name)
    running = playwright.chromium.launch(executable_path=chromium, **options)
    yield running
    running.close()


@pytest.fixture
def trusting_page(trusting_browser: Browser) -> Iterator[Page]:
    """A page of the browser that trusts."""
    yield from _page(trusting_browser.new_context(locale="en-GB"))


@pytest.fixture
def doubting_page(doubting_browser: Browser) -> Iterator[Page]:
    """A page of the browser that does not."""
    yield from _page(doubting_browser.new_context(locale="en-GB"))


def _page(context: BrowserContext) -> Iterator[Page]:
    yield context.new_page()
    context.close()
