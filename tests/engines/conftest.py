"""Browsers of two other engines, each driven the way that works for it."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from tests.engines.fox import FoxPhone
from tests.engines.web_kit import WebKitPhone
from tests.running import RunningServer


@pytest.fixture
def fox_phone(
    playwright: Playwright, own_server: RunningServer, tmp_path: Path
) -> Iterator[FoxPhone]:
    """Firefox on a storage of its own; a complaint of its page fails the test."""
    path = shutil.which("firefox-esr")
    assert path, "install firefox-esr: see the test command in README.md"
    with FoxPhone(playwright, path, tmp_path / "fox", own_server.url) as phone:
        yield phone
    assert phone.complaints == []


@pytest.fixture(scope="module")
def display() -> Iterator[str]:
    """A screen nobody looks at; its number is the first free one."""
    path = shutil.which("Xvfb")
    assert path, "install xvfb: see the test command in README.md"
    read, write = os.pipe()
    command = [path, "-displayfd", str(write), "-screen", "0", "1280x1024x24", "-nolisten", "tcp"]
    screen = subprocess.Popen(command, pass_fds=(write,), stderr=subprocess.DEVNULL)
    os.close(write)
    with os.fdopen(read) as number:
        yield f":{number.readline().strip()}"
    screen.terminate()
    screen.wait(timeout=10)


@pytest.fixture
def webkit_phone(display: str, own_server: RunningServer) -> Iterator[WebKitPhone]:
    """WebKitGTK; its storage ends with it."""
    with WebKitPhone(display, own_server.url) as phone:
        yield phone
