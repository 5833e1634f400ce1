"""What must never pass: the wrong can, the second hardener, a lot that is over."""

from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer


def cup_with_a(phone: Phone) -> str:
    """Weigh the cup and part A."""
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.read("121.5")
    return code


def test_a_can_of_another_system_stops(own_server: RunningServer, make_phone: MakePhone) -> None:
    phone = make_phone(own_server).install()
    cup_with_a(phone)
    before = phone.rows()
    phone.listen()
    phone.open_hardener("HRD7FU")
    stop = phone.page.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("This can holds HRD-F (FAST).")
    expect(stop).to_contain_text("needs HRD-S (SLOW). Pour nothing from this can.")
    expect(stop.locator("svg.stop-shape")).to_be_visible()
    assert phone.page.evaluate("window.tones") == 1
    # There is no way past it, not even with the keyboard.
    for _ in range(3):
        phone.page.keyboard.press("Escape")
        expect(stop).to_be_visible()
    expect(stop.get_by_role("button")).to_have_count(1)
    phone.answer("Put it back")
    assert phone.rows() == before
    phone.does_say("Scan the can in your hand")


def test_the_sound_of_a_stop_can_be_off_but_not_the_stop(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    phone.open("#/phone")
    phone.page.get_by_label("Sound at a stop").uncheck()
    phone.comes_to_know("sound_off", True)
    phone.open()
    phone.listen()
    cup_with_a(phone)
    phone.open_hardener("SB7CAN")
    expect(phone.page.locator("dialog.notice-stop[open]")).to_be_visible()
    # The sound would start after a look into the phone's storage.
    phone.page.wait_for_timeout(500)
    assert phone.page.evaluate("window.tones") == 0


def test_an_expired_lot_needs_a_written_reason(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    cup_with_a(phone)
    phone.open_hardener("HRD4SG")
    stop = phone.page.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("Lot HL-2104 expired on")
    expect(stop.get_by_role("button", name="Use it for this reason")).to_be_disabled()
    stop.locator("textarea").fill("   ")
    expect(stop.get_by_role("button", name="Use it for this reason")).to_be_disabled()
    phone.answer("Use it for this reason", reason="gel test of today was good")
    assert phone.figure() == "155.4"
    lot, deviation, opened = phone.rows()[-3:]
    assert (lot["kind"], lot["lot"], lot["container"]) == ("lot_used", "HL-2104", "HRD4SG")
    assert (deviation["kind"], deviation["note"]) == ("deviation", "gel test of today was good")
    assert deviation["refers_to"] == lot["event_id"]
    assert opened["kind"] == "pour_opened"
    phone.read("155.5")
    phone.page.locator(".code").tap()
    phone.does_say("gel test of today was good")


def test_a_cup_that_holds_b_refuses_a_second_first_b(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    code = cup_with_a(phone)
    first = phone.page
    assert phone.context is not None
    second = phone.context.new_page()
    phone.watch(second)
    second.goto(f"{phone.url}/bench/#/weigh/{code}")
    expect(second.locator(".cans")).to_be_visible()
    phone.open_hardener("HRD2SM")
    phone.read("155.5")
    phone.does_say("and this scale proves it")
    before = phone.rows()
    # The other window still shows the cans of a cup that has none yet.
    phone.page = second
    phone.open_hardener("HRD2SM")
    stop = second.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("Hardener is already in this cup")
    expect(stop).to_contain_text("Do not pour hardener again.")
    phone.answer("Look again")
    expect(second.locator(".verdict-in")).to_be_visible()
    assert phone.rows() == before
    phone.page = first


def test_a_scale_that_cannot_judge_the_cup_is_refused_before_anything_is_poured(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    phone.take("tip repair")
    phone.say_who("H", "S2")
    phone.does_say("Not on this scale")
    phone.does_say("Smallest cup on this scale: 208.6 g")
    phone.page.get_by_role("link", name="Use another scale").tap()
    phone.say_who("H", "S1")
    phone.does_say("Not on this scale")
    phone.does_say("Smallest cup on this scale: 20.9 g")
    assert phone.rows() == []


def test_tare_pressed_between_the_pours_changes_the_target(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    cup_with_a(phone)
    phone.open_hardener("HRD2SM")
    phone.page.get_by_role("button", name="Tare or off?").tap()
    phone.answer("I pressed tare")
    phone.answer("Yes, nothing poured since")
    phone.page.wait_for_function(
        "() => document.querySelector('.giant-figure')?.textContent === '33.9'"
    )
    phone.read("34.0")
    phone.does_say("and this scale proves it")
    phone.does_say("+0.2 %")


def test_a_reading_taken_again_stands_in_the_place_of_the_first(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    cup_with_a(phone)
    phone.open_hardener("HRD2SM")
    phone.read_as_it_stands("158.5")
    phone.does_say("Out")
    phone.page.get_by_role("button", name="Read again").tap()
    phone.read_as_it_stands("155.5")
    phone.does_say("and this scale proves it")
    last = phone.rows()[-1]
    assert (last["value"], last["shown"]) == ("155.5", "in")
    assert last["refers_to"] == phone.rows()[-2]["event_id"]
    phone.page.locator(".code").tap()
    expect(phone.page.locator(".struck")).to_contain_text("158.5")


def test_a_cup_that_is_out_is_used_only_with_a_written_reason(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    cup_with_a(phone)
    phone.open_hardener("HRD2SM")
    phone.read_as_it_stands("158.5")
    expect(phone.page.get_by_role("button", name="Start mixing")).to_have_count(0)
    phone.page.get_by_role("button", name="Use with a written reason").tap()
    phone.answer("Use it for this reason", reason="jig only, no load")
    phone.does_say("Used with a written reason: jig only, no load")
    phone.page.get_by_role("button", name="Start mixing").tap()
    phone.does_say("Scrape half way")
    assert [row["kind"] for row in phone.rows()][-2:] == ["deviation", "mix_started"]


def test_a_cup_that_feels_warm_can_only_be_scrapped(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    code = cup_with_a(phone)
    phone.open_hardener("HRD2SM")
    phone.read_as_it_stands("158.5")
    phone.page.get_by_role("button", name="Feels warm").tap()
    phone.does_say("It felt warm: it is too late to correct it.")
    phone.page.get_by_role("link", name="Scrap this cup").tap()
    phone.does_say("shallow open tray")
    phone.page.get_by_role("button", name="warm or thick").tap()
    phone.page.get_by_role("button", name="outdoors").tap()
    phone.does_say("do not carry it by hand through the shop")
    scrapped, setting = phone.rows()[-2:]
    assert (scrapped["kind"], scrapped["note"]) == ("scrapped", "warm or thick")
    assert setting["kind"] == "setting"
    phone.page.get_by_role("button", name="waste, as local rules say").tap()
    phone.open(f"#/weigh/{code}")
    expect(phone.page.locator(".story")).to_be_visible()
