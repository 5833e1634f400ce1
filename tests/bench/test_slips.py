"""Slips of the hand and of the scale: comma and point, ten-fold, ounces, tare, a stick.

Targets are those of the hatch cover: A 113.1 g at a display of 121.5, hardener to 155.4.
"""

import csv
import io

from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer


def at_part_a(phone: Phone) -> str:
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.does_say("up to 123.7 is fine")
    return code


def weighed(phone: Phone) -> list[str]:
    return [row["value"] for row in phone.rows() if row["kind"] == "weighed"]


def test_figures_that_cannot_be_are_named_and_nothing_is_taken(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    at_part_a(phone)
    for typed, complaint in (
        ("1215", "did the decimal mark slip?"),
        ("4.29", "looks like ounces"),
        ("3.99", "looks like ounces: 113.1 g"),
        ("1.215", "shows steps of 0.1 g"),
        ("1.215.0", "has two marks"),
    ):
        phone.page.keyboard.type(typed)
        phone.page.keyboard.press("Enter")
        phone.does_say(complaint)
        phone.clear(typed)
    # Paste and hardware keys are taken as the screen's own keys are, with comma or point.
    phone.page.evaluate(
        """() => { const data = new DataTransfer(); data.setData('text', ' 121,5 ');
          document.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data })); }"""
    )
    expect(phone.page.locator(".entry-figure")).to_have_text("121,5")
    phone.page.keyboard.press("Enter")
    phone.does_say("then to 155.4 g")
    assert weighed(phone) == ["8.4", "121.5"]
    assert phone.rows()[-1]["typed"] == "121,5"


def test_a_figure_of_a_scale_without_decimals_is_asked_about(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    at_part_a(phone)
    phone.page.keyboard.type("12.1")
    phone.page.keyboard.press("Enter")
    phone.does_say("Does 12.1 stand on the display?")
    phone.answer("No, type again")
    assert weighed(phone) == ["8.4"]


def test_tare_pressed_without_saying_so_is_asked_about_and_the_target_holds(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    at_part_a(phone)
    phone.read("121.5")
    phone.open_hardener("HRD2SM")
    phone.read("33.9")
    phone.does_say("Was tare pressed?")
    phone.does_say("its mass is lost: scrap this cup")
    phone.answer("No, type again")
    assert weighed(phone) == ["8.4", "121.5"]
    phone.clear("33.9")
    phone.read("33.9")
    phone.answer("Yes, right after the last reading")
    phone.does_say("and this scale proves it")
    kinds = [(row["kind"], row["value"]) for row in phone.rows()[-2:]]
    assert kinds == [("rezeroed", "0.0"), ("weighed", "33.9")]


def test_tare_unsaid_before_part_a_is_asked_about(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    at_part_a(phone)
    # The right 113.1 g, and the cup is gone from the display.
    phone.read("113.1")
    phone.does_say("Was tare pressed?")
    phone.answer("Yes, right after the last reading")
    # The hardener follows all of the 113.1 g: 33.9 on top of what stands there.
    phone.does_say("then to 147.0 g")
    phone.does_say("A 113.1 g")


def test_a_stick_left_in_is_asked_about(own_server: RunningServer, make_phone: MakePhone) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    at_part_a(phone)
    phone.read("121.5")
    phone.open_hardener("HRD2SM")
    phone.read("160.0")
    phone.does_say("Is the stick in the cup?")
    phone.answer("No, type again")
    phone.clear("160.0")
    phone.read("155.5")
    phone.does_say("and this scale proves it")
    # Lift, set down, read again: lower is taken, and stands in the place of the one before.
    phone.press(phone.page.get_by_role("button", name="Lift, set down, read again"))
    phone.read("155.4")
    phone.does_say("−0.1 %")
    assert weighed(phone)[-2:] == ["155.5", "155.4"]


def test_lower_than_before_is_refused_without_a_reading_again(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    at_part_a(phone)
    phone.read("121.5")
    phone.open_hardener("HRD2SM")
    phone.read("90.0")
    phone.does_say("90.0 is below the last reading, 121.5.")
    assert weighed(phone) == ["8.4", "121.5"]


def test_another_language_in_the_middle_of_a_cup_changes_no_figure(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    code = at_part_a(phone)
    phone.read("121.5")
    before = phone.rows()
    phone.open("#/phone")
    phone.page.select_option("#language", "de")
    expect(phone.page.locator("html[lang=de]")).to_be_attached()
    phone.open(f"#/weigh/{code}")
    phone.does_say("155,4")
    assert phone.rows() == before
    phone.open_hardener("HRD2SM")
    phone.read("155,4")
    last = phone.rows()[-1]
    assert (last["value"], last["typed"], last["target"]) == ("155.4", "155,4", "155.4")
    phone.open("#/phone")
    phone.press(phone.page.locator(".actions .action"))
    expect(phone.page.locator("dd").first).to_have_text("keine")
    exported = own_server.command("export", "--log", phone.fact("log_id")).stdout
    values = [
        row["value"] for row in csv.DictReader(io.StringIO(exported)) if row["kind"] == "weighed"
    ]
    assert values[-3:] == ["8.4", "121.5", "155.4"]
