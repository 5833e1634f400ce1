"""The phone dies in the middle of a cup, and so may its clock.

10:12 part A is read, 10:14 the hardener opened, 10:15 the phone is empty, 10:31 it is back. 45 min
at 25 degC: 17 min are gone, 75 % (33.75 min) at 10:47, over at 10:59; the cup is 147 g, the sheet's
100 g.
"""

from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.bench.sheet_acts import set_clock
from tests.running import RunningServer


def hardener_opened(phone: Phone) -> str:
    set_clock(phone, "10:10")
    phone.open()
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    set_clock(phone, "10:12")
    phone.read("121.5")
    set_clock(phone, "10:14")
    phone.open_hardener("HRD2SM")
    phone.does_say("154.9 – 156.0 proven in")
    return code


def test_it_comes_back_to_the_cup_and_says_how_long_nobody_looked(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    code = hardener_opened(phone)
    before = phone.rows()
    set_clock(phone, "10:15")
    day = phone.page.evaluate("new Date().toISOString().slice(0, 10)")
    phone.comes_to_know("alive_at", f"{day}T10:15:00.000Z")

    phone.pull_the_battery()
    phone.switch_on()
    set_clock(phone, "10:31")
    phone.open()
    phone.does_say("You were here 16 minutes ago")
    phone.does_say("B result unknown")
    phone.does_say("The app was away from 10:15 to 10:31.")
    phone.does_say("17 min gone · 75 % at 10:47 · ends 10:59")
    phone.does_say("The pot clock runs since 10:14. The sheet says 10:59 for 100 g;")
    phone.does_say("this cup is 147 g: expect less. Feel the cup.")
    # Nothing that was typed is lost, and the gap is written once.
    rows = phone.rows()
    assert rows[: len(before)] == before
    away = rows[len(before) :]
    assert [(row["kind"], row["target"], row["cup"]) for row in away] == [
        ("away", f"{day}T10:15:00.000Z", code)
    ]
    phone.page.reload()
    expect(phone.page.locator("html[data-started]")).to_be_attached()
    assert len(phone.rows()) == len(rows)

    # The scale slept, too: it is recovered from its gross.
    phone.press(phone.page.get_by_role("link", name="The scale went off, too"))
    phone.press(phone.page.locator(".restarted .card").first)
    phone.read("141.9")
    phone.does_say("B so far 20.4 g, 13.5 g to go")
    phone.read("155.4")
    phone.does_say("and this scale proves it")
    # 75 % is reckoned from the first contact, not from the restart.
    set_clock(phone, "10:47")
    phone.page.wait_for_timeout(1500)
    assert "pot life is gone" not in phone.page.locator("#screen").inner_text()
    set_clock(phone, "10:48")
    phone.does_say("75 % of the pot life is gone.")
    phone.open(f"#/story/{code}")
    phone.does_say("The app was away since 10:15")


def test_the_reading_that_stood_there_closes_the_hardener(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    hardener_opened(phone)
    phone.pull_the_battery()
    phone.switch_on()
    set_clock(phone, "10:31")
    phone.open()
    phone.press(phone.page.get_by_role("link", name="Go on"))
    assert phone.figure() == "155.4"
    phone.read("155.4")
    phone.does_say("and this scale proves it")


def test_a_clock_that_was_set_back_gives_no_cup_more_time(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    hardener_opened(phone)
    phone.read("155.4")
    set_clock(phone, "10:50")
    phone.does_say("75 % of the pot life is gone.")
    day = phone.page.evaluate("new Date().toISOString().slice(0, 10)")
    phone.comes_to_know("alive_at", f"{day}T10:50:00.000Z")
    phone.pull_the_battery()
    phone.switch_on()
    set_clock(phone, "10:16")
    phone.open()
    phone.press(phone.page.locator(".card", has_text="In").first)
    phone.does_say("75 % of the pot life is gone.")
    phone.does_say("The phone’s clock was set back: the shorter time counts.")
