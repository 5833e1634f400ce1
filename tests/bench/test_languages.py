"""Another language in the middle of a cup, with no network: no number changes."""

import pytest
from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.running import RunningServer


def test_the_language_is_switched_offline_in_the_middle_of_a_cup(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    assert phone.figure() == "121.0"
    before = phone.rows()
    phone.open("#/phone")
    phone.page.get_by_label("Language").select_option("de")
    expect(phone.page.locator("h1")).to_have_text("Dieses Telefon")
    expect(phone.page.locator("html")).to_have_attribute("lang", "de")
    phone.open(f"#/weigh/{code}")
    assert phone.figure() == "121,0"
    phone.does_say("Komponente A")
    assert phone.rows() == before
    phone.read("121,5")
    last = phone.rows()[-1]
    assert (last["value"], last["typed"], last["target"]) == ("121.5", "121,5", "121.0")
    phone.open_hardener("HRD2SM")
    assert phone.figure() == "155,4"
    phone.does_say("154,9 – 156,0")
    phone.read_as_it_stands("158,5")
    phone.does_say("Daneben")
    phone.does_say("+9,0 %")
    phone.does_say("10,2")
    phone.does_say("168,7")
    assert phone.rows()[-1]["shown"] == "out"
    # The choice outlives the app.
    phone.open(f"#/story/{code}")
    phone.does_say("158,5")


@pytest.mark.parametrize("locale, key", [("de-DE", ","), ("en-GB", "."), ("fr-FR", ".")])
def test_the_phone_s_own_language_is_taken_where_there_is_one(
    own_server: RunningServer, make_phone: MakePhone, locale: str, key: str
) -> None:
    phone = make_phone(own_server, locale=locale).install()
    phone.page.locator(".next-cups .card", has_text="146").first.tap()
    for choice in ("O", "S1"):
        phone.page.locator(".choice label", has=phone.page.get_by_text(choice, exact=True)).tap()
    phone.page.locator(".crew .action").tap()
    expect(phone.page.locator(".keys .key").last).to_have_text(key)
