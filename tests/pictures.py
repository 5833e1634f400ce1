"""Make the pictures of the README: ``python -m tests.pictures``."""

import shutil
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image
from playwright.sync_api import Playwright, sync_playwright

from companion.paper.labels import Words, cup_label
from companion.paper.sheet import ROLL_62X29
from tests.bench import camera
from tests.bench.phone import Phone
from tests.paper.damage import printed
from tests.paper.lens import View, seen
from tests.paper.samples import SYSTEM
from tests.running import RunningServer

PICTURES = Path(__file__).parent / "pictures"
#: Enough for a sharp table cell, and no more bytes than that.
SCALE = 1
#: The camera opens and shows its picture.
AIMING_MS = 1500


def main() -> None:
    """Weigh the hatch cover's cup, once well and once nine per cent too rich; then its lay-up."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        film = Path(folder) / "camera.y4m"
        aim(film, Path(folder))
        server = RunningServer(Path(folder) / "data").start()
        phone = Phone(
            playwright,
            shutil.which("chromium") or "chromium",
            Path(folder) / "phone",
            server.url,
            flags=camera.flags(film),
            device_scale_factor=SCALE,
            color_scheme="light",
        )
        try:
            lay_up(phone)
            weigh(phone)
            rescue(phone)
            plan(playwright, server.url)
        finally:
            phone.switch_off()
            server.stop()


def weigh(phone: Phone) -> None:
    """Take the pictures of weighing on the way."""
    phone.open()
    phone.page.get_by_role("link", name="Scan a label").tap()
    phone.page.wait_for_timeout(AIMING_MS)
    picture(phone, "scan")
    phone.open()
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
    phone.read_as_it_stands("158.5")
    phone.page.locator(".verdict-out").wait_for()
    picture(phone, "weigh-out")


def rescue(phone: Phone) -> None:
    """The over-poured cup is corrected, mixed and divided; scale and phone go off; all clocks."""
    phone.page.get_by_role("button", name="Pour A to").tap()
    phone.read("168.7")
    phone.page.get_by_role("button", name="Start mixing").tap()
    phone.does_say("Scrape half way")
    phone.pass_time(90)
    phone.page.get_by_role("button", name="Scraped").wait_for()
    picture(phone, "mixing")
    phone.page.get_by_role("button", name="Scraped").tap()
    phone.does_say("Mix on until")
    phone.pass_time(90)
    phone.page.get_by_role("button", name="Mixed, no streaks").tap()
    phone.page.get_by_role("button", name="Into two cups").wait_for()
    picture(phone, "divide")
    phone.open()
    code = phone.take("ply 3")
    phone.read("121.5")
    phone.open_hardener("HRD2SM")
    phone.page.locator(".keypad").wait_for()
    phone.open(f"#/restarted/{code}")
    phone.page.locator(".restarted .card").first.tap()
    phone.page.locator(".way-back").wait_for()
    picture(phone, "restarted")
    phone.pull_the_battery()
    phone.switch_on()
    phone.page.clock.set_fixed_time(phone.page.evaluate("Date.now()") / 1000 + 180 + 16 * 60)
    phone.open()
    phone.page.locator(".resume").wait_for()
    picture(phone, "resume")
    phone.open("#/clocks")
    phone.page.locator(".clock").first.wait_for()
    picture(phone, "clocks")


def lay_up(phone: Phone) -> None:
    """The lay-up sheet of the hatch cover, its finger test, and air and mould."""
    phone.install()
    phone.open("#/sheet/14@2")
    phone.page.locator(".current-step").wait_for()
    picture(phone, "sheet")
    phone.open("#/step/14@2/tack")
    phone.page.locator(".actions").wait_for()
    picture(phone, "step")
    phone.open("#/air")
    phone.page.locator(".actions").wait_for()
    picture(phone, "air")


def plan(playwright: Playwright, url: str) -> None:
    """The plan of the hatch cover, as the office shows it."""
    browser = playwright.chromium.launch(executable_path=shutil.which("chromium"))
    page = browser.new_page(viewport={"width": 1000, "height": 1150}, color_scheme="light")
    page.goto(f"{url}/jobs/14")
    page.screenshot(path=PICTURES / "plan.png")
    browser.close()


def aim(film: Path, folder: Path) -> None:
    """A label in front of the camera, not quite in focus yet."""
    label = cup_label("7K2QMS", SYSTEM, "146.4", ("Hatch cover 14", "ply 1"), Words())
    view = View(distance_mm=150, turn_deg=-8, blur_px=7)
    frame = seen(printed(label, ROLL_62X29, folder), view, np.random.default_rng(14))
    camera.show(film, Image.fromarray(frame))


def picture(phone: Phone, name: str) -> None:
    """Save what the screen shows."""
    phone.page.evaluate("document.fonts.ready")
    phone.page.screenshot(path=PICTURES / f"{name}.png")


if __name__ == "__main__":
    main()
