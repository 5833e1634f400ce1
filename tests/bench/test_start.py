"""A cup without a plan: by its total, or by the part A there is; also with no network."""

from playwright.sync_api import expect

from companion.trade.codes import is_label
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer


def start(phone: Phone, system: str) -> None:
    phone.page.get_by_role("link", name="Start a cup without a plan").tap()
    phone.page.locator(".start .card", has_text=system).tap()
    expect(phone.page.locator(".keypad")).to_be_visible()


def test_a_cup_is_started_by_its_total(own_server: RunningServer, make_phone: MakePhone) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    codes = phone.fact("codes")
    assert len(codes) == 500
    start(phone, "RES-L + SLOW")
    phone.page.get_by_label("For").select_option(label="Paddle pair 15")
    phone.read("130")
    phone.say_who()
    phone.read("8.4")
    # 130 g at 100:30 is 100 g A (mass balance, MX-12): 108.4 on the display.
    assert phone.figure() == "108.4"
    phone.read("108.4")
    phone.open_hardener("HRD2SM")
    assert phone.figure() == "138.4"
    phone.read("138.4")
    phone.does_say("and this scale proves it")
    first = phone.rows()[0]
    assert (first["kind"], first["value"], first["job"]) == ("cup_started", "130", "15@1")
    assert first["cup"] in codes and is_label(first["cup"])
    assert first["cup"] not in phone.fact("codes")
    own_server.start()
    phone.send_now()
    exported = own_server.command("export", "--cup", first["cup"]).stdout
    assert len(exported.splitlines()) == 1 + len(phone.rows())


def test_a_cup_is_started_by_the_part_a_there_is(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    start(phone, "RES-L + SLOW")
    phone.page.get_by_role("button", name="I have this much A").tap()
    expect(phone.page.locator("h2")).to_have_text("How much A do you have?")
    phone.read("100")
    phone.say_who()
    phone.read("8.4")
    assert phone.figure() == "108.4"


def test_a_cup_started_here_is_still_there_after_the_phone_died(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    start(phone, "SRF-A + SURFACE")
    phone.read("70")
    phone.say_who()
    phone.does_say("Put the empty cup on the zeroed scale")
    phone.pull_the_battery()
    phone.switch_on()
    phone.open()
    phone.take("70 g · SRF-A + SURFACE")
    phone.does_say("Put the empty cup on the zeroed scale")
    # The surface system's card names no pot life: no clock is made up for it.
    phone.read("8.4")
    phone.read("58.4")
    phone.open_hardener("SB7CAN")
    phone.read("78.4")
    phone.does_say("No pot life is on the card: see the data sheet.")
