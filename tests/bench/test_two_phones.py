"""Two phones and one cup: shared through the server, or both cut off from it."""

import pytest
from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer


def start_cup(phone: Phone, part_a: str) -> str:
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.read(part_a)
    phone.does_say("Scan the can in your hand")
    return code


def test_a_cup_with_a_waiting_is_finished_on_the_other_phone(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    first, second = make_phone(own_server).install(), make_phone(own_server).install()
    code = start_cup(first, "121.5")
    first.send_now()
    second.send_now()
    second.open()
    second.take(code)
    second.say_who("H", "S1")
    second.open_hardener("HRD2SM")
    assert second.figure() == "155.4"
    second.read("155.5")
    second.does_say("and this scale proves it")
    second.open(f"#/scrap/{code}")
    second.page.get_by_role("button", name="not needed").tap()
    second.page.get_by_role("button", name="shallow open tray").tap()
    second.does_say("Keep it in view until it is cold and hard")
    second.send_now()
    # The phone that only weighed A does not offer hardener for a cup that is long finished.
    first.send_now()
    first.open(f"#/weigh/{code}")
    first.does_say("Keep it in view until it is cold and hard")
    first.open(f"#/story/{code}")
    expect(first.page.locator(".story")).to_contain_text("Scrapped")
    assert {row["person"] for row in second.rows()} == {"H"}


def test_two_phones_that_start_the_same_label_each_go_on_with_their_own_cup(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    first, second = make_phone(own_server).install(), make_phone(own_server).install()
    own_server.kill()
    code = start_cup(first, "121.5")
    start_cup(second, "108.4")
    own_server.start()
    for phone in (first, second, first, second):
        phone.send_now()
    for phone, stop in ((first, "155.4"), (second, "138.4")):
        phone.open(f"#/weigh/{code}")
        phone.does_say(f"then to {stop} g")
        phone.does_say("Another open cup carries this label.")
        phone.open_hardener("HRD2SM")
        assert phone.figure() == stop
    first.send_now()
    second.send_now()
    first.page.goto(f"{own_server.url}/cups/{code}")
    expect(first.page.locator("main")).to_contain_text("121.5")
    expect(first.page.locator("main")).to_contain_text("108.4")


def test_a_twin_gets_a_label_of_its_own_and_both_are_finished_on_one_phone(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    first, second = make_phone(own_server).install(), make_phone(own_server).install()
    own_server.kill()
    code = start_cup(first, "121.5")
    start_cup(second, "108.4")
    own_server.start()
    for phone in (first, second, first):
        phone.send_now()
    first.open(f"#/type/label/{code}")
    first.page.keyboard.type("9B3XWD")
    first.answer("Yes, it is on the cup")
    expect(first.page.locator(".weigh a.code")).to_have_text("9B3XWD")
    first.does_say("then to 155.4 g")
    # The old label means the other phone's cup now, and this phone finishes it.
    first.open(f"#/weigh/{code}")
    first.does_say("then to 138.4 g")
    first.open_hardener("HRD2SM")
    first.read("138.4")
    first.does_say("and this scale proves it")
    first.open("#/weigh/9B3XWD")
    first.open_hardener("HRD2SM")
    assert first.figure() == "155.4"
    first.send_now()
    told = own_server.command("trace", code).stdout
    assert told.count("RES-L+HRD-S@3") == 2


def test_hardener_is_not_opened_twice_by_a_window_that_knows_the_old_label(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    code = start_cup(phone, "121.5")
    stale = phone.context.new_page()
    phone.watch(stale)
    stale.goto(f"{phone.url}/bench/#/weigh/{code}")
    expect(stale.locator(".cans .card").first).to_be_visible()
    phone.open(f"#/type/label/{code}")
    phone.page.keyboard.type("9B3XWD")
    phone.answer("Yes, it is on the cup")
    expect(phone.page.locator(".weigh a.code")).to_have_text("9B3XWD")
    phone.open_hardener("HRD2SM")
    expect(phone.page.locator(".weigh .keypad")).to_be_visible()
    stale.locator(".cans .card", has_text="HRD2SM").tap()
    expect(stale.locator("dialog.notice-stop[open]")).to_be_visible()
    assert [row["kind"] for row in phone.rows()].count("pour_opened") == 1


@pytest.mark.parametrize("back_first", [0, 1], ids=["first", "second"])
def test_a_double_fill_is_kept_and_flagged_whoever_comes_back_first(
    own_server: RunningServer, make_phone: MakePhone, back_first: int
) -> None:
    first, second = make_phone(own_server).install(), make_phone(own_server).install()
    code = start_cup(first, "121.5")
    first.send_now()
    second.send_now()
    own_server.kill()
    # Cut off from each other, both see A waiting, and both pour hardener.
    for phone in (first, second):
        phone.open(f"#/weigh/{code}")
        if phone is second:
            phone.say_who("H", "S1")
        phone.open_hardener("HRD2SM")
        phone.read("155.5")
    own_server.start()
    both = (first, second)
    for phone in (both[back_first], both[1 - back_first], both[back_first]):
        phone.send_now()
    for phone in both:
        phone.open(f"#/story/{code}")
        phone.does_say("Two phones filled this cup without knowing of each other.")
    exported = own_server.command("export", "--cup", code).stdout
    for phone in both:
        assert all(row["event_id"] in exported for row in phone.rows() if row["cup"] == code)
    first.page.goto(f"{own_server.url}/cups/{code}")
    expect(first.page.locator("main")).to_contain_text("Double fill")
