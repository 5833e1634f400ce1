"""The answer to a post is lost, replaced, delayed, repeated: each row is stored exactly once."""

import csv
import io

import pytest
from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.faulty_line import FAULTS, FaultyLine
from tests.running import RunningServer

#: What the phone may rightly say while the fault lasts.
SAYS = {
    "lost": "the shop was not reached",
    "login_page": "something else answered, nothing counts as sent",
    "login_page_instead": "something else answered, nothing counts as sent",
    "delayed": "the shop was not reached",
    "cut_json": "something else answered, nothing counts as sent",
    "error_500": "something else answered, nothing counts as sent",
}


@pytest.mark.parametrize("fault", FAULTS)
def test_every_row_is_stored_once_and_the_phone_knows_it(
    own_server: RunningServer, make_phone: MakePhone, fault: str
) -> None:
    with FaultyLine(own_server.port).running() as line:
        phone = make_phone(own_server)
        phone.url = line.url
        phone.install()
        line.fault = fault
        phone.take("ply 1")
        phone.say_who()
        phone.read("8.4")
        phone.read("121.5")
        log_id = phone.fact("log_id")
        phone.page.goto(f"{line.url}/bench/#/phone")
        send = phone.page.get_by_role("button", name="Send now")
        send.tap()
        expect(send).to_be_enabled(timeout=45_000)
        assert line.faults_done >= 1
        if fault != "sent_twice":
            expect(phone.page.locator("dd").first).to_have_text("4 rows")
            expect(phone.page.locator("dl")).to_contain_text(SAYS[fault])
        line.fault = ""
        send.tap()
        expect(phone.page.locator("dd").first).to_have_text("none", timeout=45_000)

        exported = own_server.command("export", "--log", log_id).stdout
        held = [row["event_id"] for row in csv.DictReader(io.StringIO(exported, newline=""))]
        assert held == [row["event_id"] for row in phone.rows()]
        assert len(held) == len(set(held)) == 4
        phone.expect_complaint("Failed to load resource")
