"""Make the pictures of the README: ``python -m tests.pictures``."""

import shutil
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.bench.phone import Phone
from tests.running import RunningServer

PICTURES = Path(__file__).parent / "pictures"
#: Enough for a sharp table cell, and no more bytes than that.
SCALE = 1


def main() -> None:
    """Weigh the hatch cover's cup twice, once well and once nine per cent too rich."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        server = RunningServer(Path(folder) / "data").start()
        phone = Phone(
            playwright,
            shutil.which("chromium") or "chromium",
            Path(folder) / "phone",
            server.url,
            device_scale_factor=SCALE,
            color_scheme="light",
        )
        try:
            weigh(phone)
        finally:
            phone.switch_off()
            server.stop()


def weigh(phone: Phone) -> None:
    """Take the four pictures on the way."""
    phone.install()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.type("121.5")
    picture(phone, "weigh-a")
    phone.page.locator(".read").tap()
    phone.open_hardener("HRD2SM")
    phone.page.locator(".keypad").wait_for()
    phone.type("155.5")
    picture(phone, "weigh-b")
    phone.page.locator(".read").tap()
    phone.page.locator(".verdict-in").wait_for()
    picture(phone, "weigh-in")
    phone.open()
    phone.take("ply 2")
    phone.read("8.4")
    phone.read("121.5")
    phone.open_hardener("HRD2SM")
    phone.page.locator(".keypad").wait_for()
    phone.read("158.5")
    phone.page.locator(".verdict-out").wait_for()
    picture(phone, "weigh-out")


def picture(phone: Phone, name: str) -> None:
    """Save what the screen shows."""
    phone.page.evaluate("document.fonts.ready")
    phone.page.screenshot(path=PICTURES / f"{name}.png")


if __name__ == "__main__":
    main()
