"""The pot clock of a cup nobody came back to: 45 min at 25 degC, 10:43:45 and 10:55 from 10:10."""

from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.sheet_acts import set_clock, tap
from tests.running import RunningServer


def test_past_its_pot_life_scrapping_comes_first_and_going_on_takes_a_reason(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    set_clock(phone, "10:00")
    phone.open()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.read("121.5")
    set_clock(phone, "10:10")
    phone.open_hardener("HRD2SM")
    phone.read("155.5")
    phone.does_say("The sheet says 10:55 for 100 g")
    assert "pot life is gone" not in phone.page.locator("#screen").inner_text()

    # The screen that lay open says so by itself.
    set_clock(phone, "10:44")
    phone.does_say("75 % of the pot life is gone.")
    expect(phone.page.locator(".actions .action")).to_have_text("Start mixing")
    set_clock(phone, "10:55")
    phone.does_say("Past its pot life: do not lay up")
    phone.does_say("ended 10:55: 45 min by the sheet")
    expect(phone.page.locator(".actions .action")).to_have_text("Scrap this cup")
    expect(phone.page.locator(".actions > *").first).to_have_text("Scrap this cup")

    before = len(phone.rows())
    tap(phone, "Start mixing")
    phone.answer("No")
    assert len(phone.rows()) == before
    tap(phone, "Start mixing")
    phone.does_say("The pot life ended 10:55.")
    phone.answer("Go on for this reason", "test panel")
    phone.does_say("Goes on for a written reason: test panel")
    phone.pull_the_battery()
    phone.switch_on()
    set_clock(phone, "11:00")
    phone.open()
    phone.does_say("You were here 5 minutes ago")
    tap(phone, "Go on")
    phone.does_say("Past its pot life: do not lay up")
    tap(phone, "Scraped")
    tap(phone, "Mixed, no streaks")
    phone.does_say("It was for Hatch cover 14 · ply 1")
    rows = phone.rows()
    kinds = [row["kind"] for row in rows[before:]]
    assert kinds == ["deviation", "mix_started", "away", "scraped", "mixed"]
    read = next(row for row in reversed(rows) if row["kind"] == "weighed")
    reason = rows[before]
    assert (reason["refers_to"], reason["shown"]) == (read["event_id"], "pot_life_over")
