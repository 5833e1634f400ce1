"""What the tests share: the application, a running server, a real browser."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import settings
from playwright.sync_api import Browser, Playwright, sync_playwright
from werkzeug.datastructures import Headers
from werkzeug.test import TestResponse

from companion.app import create_app
from companion.config import Config
from tests.running import RunningServer

#: Flags that keep the browser on this machine.
CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost",
]


# No test fails for the time it takes: the machine may have other work.
settings.register_profile("patient", deadline=None)
settings.load_profile("patient")

#: What stands for a real browser, with all its processes, on a machine that has other work, too.
REAL_BROWSERS = {"chromium", "fox_phone", "webkit_phone"}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A journey through a real browser that failed is gone once more; both times are reported."""
    for item in items:
        if REAL_BROWSERS & set(getattr(item, "fixturenames", ())):
            item.add_marker(pytest.mark.flaky(reruns=1))


@pytest.fixture
def app(tmp_path: Path) -> Iterator[Flask]:
    """The application on the demo workshop, in a folder of its own."""
    application = create_app(Config(tmp_path / "data", demo=True))
    yield application
    application.extensions["companion"].store.close()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """A page of this very origin, without a browser."""
    app.test_client_class = OwnOrigin
    return app.test_client()


class OwnOrigin(FlaskClient):
    """Asks as a page of the server's own origin does."""

    def open(self, *args: Any, **options: Any) -> TestResponse:
        """Send a request with the origin filled in where the test names none."""
        headers = Headers(options.pop("headers", None))
        headers.setdefault("Origin", "http://127.0.0.1")
        options.setdefault("base_url", "http://127.0.0.1")
        return super().open(*args, headers=headers, **options)


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningServer]:
    """A running demo server that tests may read from but must not stop."""
    running = RunningServer(tmp_path_factory.mktemp("server") / "data").start()
    yield running
    running.stop()


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[RunningServer]:
    """A running demo server of one test, to be killed and started again."""
    running = RunningServer(tmp_path / "data").start()
    yield running
    running.kill()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The driver of the browsers."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def chromium() -> str:
    """Where the system's Chromium is."""
    path = shutil.which("chromium")
    assert path, "install Chromium: see the test command in README.md"
    return path


@pytest.fixture(scope="session")
def browser(playwright: Playwright, chromium: str) -> Iterator[Browser]:
    """A real Chromium."""
    running = playwright.chromium.launch(executable_path=chromium, args=CHROMIUM_FLAGS)
    yield running
    running.close()
