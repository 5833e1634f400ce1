"""From the office page of a part to a cup in its step, with the network gone: the hatch cover (T1).

Its figures are those of the worked job file: tests/trade/test_plan.py names where they come from.
"""

import json
import re

from playwright.sync_api import Browser, Page, expect

from companion.wire.job_file import write_json
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.bench.sheet_acts import measure, tap
from tests.running import RunningServer
from tests.trade.hatch import HATCH

#: The cover again, as a job of its own: the demo has laid up the first one half.
FILE = {**json.loads(write_json(HATCH)), "job": "21", "part": "T1 cover", "serial": "HC-021"}


def plan_and_order(page: Page, url: str) -> None:
    """Bring the job file, look at the plan, order its cups and see their labels."""
    page.goto(f"{url}/jobs")
    upload = {
        "name": "21.json",
        "mimeType": "application/json",
        "buffer": json.dumps(FILE).encode(),
    }
    page.get_by_label("Job file, JSON or TOML").set_input_files(upload)  # type: ignore[arg-type]
    page.get_by_role("button", name="Bring the file").click()
    page.goto(f"{url}/jobs/21")
    said = re.sub(r"\s+", " ", page.locator("main").inner_text())
    for figure in ("408.0 g", "376.6 g", "13.6 g", "415.2 g", "40.9 %", "52.0 %", "1.63 mm"):
        assert figure in said, figure
    assert said.count("112.6 33.8 146.4") == 3 and "97.9 39.1 137.0" in said
    page.get_by_role("button", name="Order these cups").click()
    expect(page.locator("h1")).to_have_text("4 cups are planned")
    page.locator("#main").get_by_role("link", name="Print labels").click()
    expect(page.locator("input[type=checkbox][name=codes]:checked")).to_have_count(4)


def weigh(phone: Phone, can: str) -> str:
    """Every stop is met to the step of the scale; the code of the cup."""
    expect(phone.page.locator(".keypad")).to_be_visible()
    code = phone.page.locator(".cup-header .code").inner_text()
    phone.read("8.4")
    assert phone.figure() == "106.3"
    phone.read("106.3")
    phone.open_hardener(can)
    # 39.16 g of hardener for the 97.9 g that were poured.
    assert phone.figure() == "145.5"
    phone.read("145.5")
    phone.does_say("and this scale proves it")
    return code


def test_from_the_office_page_to_a_cup_in_its_step(
    own_server: RunningServer, make_phone: MakePhone, browser: Browser
) -> None:
    office = browser.new_page(locale="en-GB", viewport={"width": 360, "height": 740})
    plan_and_order(office, own_server.url)
    phone = make_phone(own_server).install()
    own_server.kill()

    measure(phone, "20", "50", "20")
    phone.open("#/sheets")
    phone.page.locator(".card", has_text="T1 cover").tap()
    phone.page.locator(".current-step").tap()
    tap(phone, "Done")
    tap(phone, "Next: surface coat")
    tap(phone, "Start")
    phone.page.locator(".step .card", has_text="137").tap()
    code = weigh(phone, "SB7CAN")
    phone.mix()
    tap(phone, "Poured into the part: surface coat")
    phone.pull_the_battery()
    phone.switch_on()
    phone.open("#/step/21@1/surface coat")
    tap(phone, "Done")
    tap(phone, "Next: finger test")
    phone.does_say("wait until")

    own_server.start()
    phone.send_now()
    assert phone.fact("holdings")["aside"] == {}
    office.goto(f"{own_server.url}/cups/{code}")
    expect(office.locator("main")).to_contain_text("surface coat")
    expect(office.locator("main")).to_contain_text("T1 cover")
    office.goto(f"{own_server.url}/jobs/21")
    expect(office.locator("main")).to_contain_text("in work: surface coat")
    office.close()
