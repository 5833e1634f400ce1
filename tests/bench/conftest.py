"""Phones for the journeys."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Playwright

from tests.bench.phone import Phone
from tests.lan.network import LanServer
from tests.running import RunningServer

MakePhone = Callable[..., Phone]


@pytest.fixture
def make_phone(playwright: Playwright, chromium: str, tmp_path: Path) -> Iterator[MakePhone]:
    """Phones of one test; each has a storage of its own and is switched off at the end.

    A phone that complained of an error of its own page fails the test.
    """
    phones: list[Phone] = []

    def make(server: RunningServer | LanServer, **options: Any) -> Phone:
        profile = tmp_path / f"phone-{len(phones)}"
        phone = Phone(playwright, chromium, profile, server.url, **options)
        phones.append(phone)
        return phone

    yield make
    for phone in phones:
        phone.switch_off()
    assert [phone.complaints for phone in phones] == [[] for _ in phones]


@pytest.fixture
def own_shop(tmp_path: Path) -> Iterator[LanServer]:
    """A demo shop on the network, of one test."""
    running = LanServer(tmp_path / "shop").start()
    yield running
    running.kill()


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanServer]:
    """A demo shop on the network that tests may ask but must not stop."""
    running = LanServer(tmp_path_factory.mktemp("shop") / "data").start()
    yield running
    running.kill()
