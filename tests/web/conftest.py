"""A shop full of harmful texts, for the tests that look at it from all sides."""

import json
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from companion.records.store import Store
from companion.wire.digest import content_digest
from companion.wire.log_csv import write_log
from tests.bench.phone import LONGEST_WAIT_MS, PHONE
from tests.running import RunningServer
from tests.web.hostile import HARMFUL, HostileShop, Watch, Workshop, fresh, new_log, spoiled


def post_rows(server: RunningServer, log_id: str, body: bytes, count: int) -> dict[str, object]:
    request = urllib.request.Request(
        f"{server.url}/api/v1/logs/{log_id}/rows",
        body,
        {
            "Content-Type": "text/csv; charset=utf-8; header=present",
            "Content-Digest": content_digest(body),
            "Row-Count": str(count),
            "App-Version": HARMFUL[0],
            "User-Agent": HARMFUL[1],
            "Origin": server.url,
        },
    )
    with urllib.request.urlopen(request, timeout=20) as answer:
        found: dict[str, object] = json.load(answer)
        return found


@pytest.fixture(scope="session")
def hostile_shop(
    tmp_path_factory: pytest.TempPathFactory, browser: Browser
) -> Iterator[HostileShop]:
    """Records, rows of a phone by the interface, and rows of a file by the form of the office."""
    folder = tmp_path_factory.mktemp("hostile")
    workshop = Workshop(folder / "data")
    sent, imported = new_log(), new_log()
    rows = workshop.rows(sent)
    strange = fresh(sent, spoiled(rows))
    from_file = workshop.rows(imported)
    file = folder / "log.csv"
    file.write_bytes(write_log([*from_file, *spoiled(from_file), *strange]).encode())
    server = RunningServer(folder / "data").start()
    store = Store(f"sqlite:///{folder / 'data' / 'companion.sqlite3'}")
    try:
        post_rows(server, sent, write_log(rows).encode(), len(rows))
        import_by_hand(browser, server, file)
        yield HostileShop(server, store, sent, imported)
    finally:
        store.close()
        server.stop()


def import_by_hand(browser: Browser, server: RunningServer, file: Path) -> None:
    page = browser.new_page()
    page.goto(f"{server.url}/exchange")
    page.locator("#file").set_input_files(file)
    page.get_by_role("button", name="Import the file").click()
    expect(page.locator("main")).to_contain_text("What became of them")
    page.close()


@pytest.fixture(scope="module")
def watched(browser: Browser) -> Iterator[tuple[Page, Watch]]:
    """One page that is watched through all of this."""
    context = browser.new_context(locale="en-GB", viewport=PHONE)  # type: ignore[arg-type]
    context.set_default_timeout(LONGEST_WAIT_MS)
    watch = Watch(context)
    yield context.new_page(), watch
    context.close()
