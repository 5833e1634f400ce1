"""A shop on its network and its phones: installed apps, tabs, windows that trust or do not."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import qrcode
from PIL import Image
from playwright.sync_api import expect

from companion.app import open_store
from companion.config import Config
from companion.records import pairing
from companion.records.store import Store
from companion.trade.times import format_utc
from tests.bench import camera
from tests.bench.phone import Phone
from tests.lan.network import LanServer, browser_options, home

#: What the browser says of an answer that is none of ours to mend: refusals are the test.
REFUSED = "Failed to load resource"


def phone_options(shop: LanServer, folder: Path, *, installed: bool, **more: Any) -> dict[str, Any]:
    """Options of a phone that trusts the shop.

    :param folder: for the home of its browser.
    :param installed: a window of its own, as from the home screen; else a tab.
    """
    options = browser_options(home(folder, shop.authority), shop.name)
    flags = [*options.pop("args"), *more.pop("flags", ())]
    if installed:
        # The window must be the first and only one.
        flags.append(f"--app={shop.url}/bench/")
        options["ignore_default_args"] = ["about:blank"]
        # Emulating a mobile screen would make a tab of every window.
        options["is_mobile"] = False
    return {"flags": flags, **options, **more}


def keep_for_good(phone: Phone) -> None:
    """Let the browser promise to keep the storage; asked for again by the next start."""
    assert phone.context is not None
    session = phone.context.new_cdp_session(phone.page)
    session.send(
        "Browser.grantPermissions", {"permissions": ["durableStorage"], "origin": phone.url}
    )
    assert phone.page.evaluate("navigator.storage.persist()")


@contextmanager
def records_of(shop: LanServer) -> Iterator[Store]:
    """The records of a shop, beside its running server."""
    store = open_store(Config(shop.data_dir, shop.demo))
    try:
        yield store
    finally:
        store.close()


def pairing_code(shop: LanServer, name: str = "Bench 1", replaces: str = "") -> str:
    """A code as the office makes it."""
    with records_of(shop) as store:
        return pairing.ask_for(store, name, replaces, format_utc(datetime.now(UTC)))


def picture_of(text: str) -> Image.Image:
    """A pattern as the office's screen shows it, in front of the camera."""
    made = qrcode.QRCode(border=4, box_size=10)
    made.add_data(text)
    return camera.on_the_bench(made.make_image().get_image(), 560)


def pair(phone: Phone, code: str, name: str = "Bench 1") -> Phone:
    """Type a pairing code and see that the phone is paired and has the shop's cups."""
    phone.open("#/pair")
    phone.page.get_by_label("Pairing code").fill(code)
    phone.page.get_by_role("button", name="Pair", exact=True).tap()
    phone.does_say(f"Paired as {name}")
    phone.does_say("The cups of the shop are here.")
    phone.page.get_by_role("link", name="Next cups").tap()
    expect(phone.page.locator(".card").first).to_be_visible()
    return phone
