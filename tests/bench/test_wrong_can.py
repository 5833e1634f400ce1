"""Two people mix at once, offline: the wrong can stops, and nothing of the two phones collides.

33.9 g of the fast hardener (100:36) into 113.1 g A are -16.7 %; its own 40.7 g would be +20.0 % for
a cup of the slow one (100:30).
"""

from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer


def with_a(phone: Phone, words: str, person: str) -> str:
    """A cup with part A, waiting; FAST cups are started without a plan."""
    if words == "FAST":
        phone.open("#/start")
        phone.press(phone.page.locator(".start .card", has_text="RES-L + FAST"))
        phone.type("140")
        phone.press(phone.page.locator(".read"))
        expect(phone.page.locator(".weigh, .crew")).to_be_visible()
        if phone.page.locator(".screen.crew").count():
            phone.say_who(person)
        code = phone.page.locator(".cup-header .code").inner_text()
        phone.read("8.4")
        phone.read("111.3")
    else:
        code = phone.take(words)
        phone.say_who(person)
        phone.read("8.4")
        phone.read("121.5")
    phone.does_say("Scan the can in your hand")
    return code


def test_a_can_scanned_first_stops_over_a_cup_of_the_other_hardener(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    owner, helper = make_phone(own_server).install(), make_phone(own_server).install()
    slow = with_a(owner, "ply 1", "O")
    owner.send_now()
    helper.send_now()
    own_server.kill()
    helper.open()
    fast = with_a(helper, "FAST", "H")
    before = helper.rows()

    helper.open("#/found/HRD7FU")
    helper.does_say("HRD-F (FAST)")
    helper.open(f"#/found/{slow}")
    stop = helper.page.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("This can holds HRD-F (FAST).")
    expect(stop).to_contain_text(f"Cup {slow} needs HRD-S (SLOW). Pour nothing from this can.")
    expect(stop).to_contain_text(f"It is for cup {fast}")
    expect(stop).to_contain_text("33.9 g of FAST would be −16.7 %")
    expect(stop).to_contain_text("its own 40.7 g would be +20.0 % for this cup")
    expect(stop.locator("svg.stop-shape")).to_be_visible()
    box = stop.bounding_box()
    assert box is not None
    assert box["height"] >= 915
    helper.answer("Put it back")
    assert helper.rows() == before

    # The same can over its own cup is opened by one answer.
    helper.open("#/found/HRD7FU")
    helper.does_say("HRD-F (FAST)")
    helper.open(f"#/found/{fast}")
    helper.does_say("Open hardener FAST for this cup?")
    helper.answer("Open it")
    helper.does_say("until it shows")
    opened = [row["kind"] for row in helper.rows()[len(before) :]]
    assert opened == ["lot_used", "pour_opened"]


def test_a_cup_that_holds_hardener_refuses_a_second_first_pour(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    code = with_a(phone, "ply 1", "O")
    phone.open_hardener("HRD2SM")
    phone.read("155.5")
    before = phone.rows()
    phone.open("#/found/HRD2SM")
    phone.does_say("HRD-S (SLOW)")
    phone.open(f"#/found/{code}")
    phone.does_say("Start mixing")
    assert phone.page.locator("dialog[open]").count() == 0
    phone.open(f"#/scan/b/{code}")
    phone.press(phone.page.get_by_role("link", name="Type the code"))
    for letter in "HRD2SM":
        phone.press(phone.page.locator(".code-keys .key").get_by_text(letter, exact=True))
    phone.does_say("Start mixing")
    assert phone.rows() == before


def test_two_phones_offline_never_collide(own_server: RunningServer, make_phone: MakePhone) -> None:
    phones = [make_phone(own_server).install(), make_phone(own_server).install()]
    own_server.kill()
    # Both work at the same time, each on cups of its own.
    codes = []
    for _ in range(2):
        for phone, person in zip(phones, ("O", "H"), strict=True):
            phone.open()
            codes.append(with_a(phone, "FAST", person))
    assert len(set(codes)) == 4
    rows = [row for phone in phones for row in phone.rows()]
    assert len({row["event_id"] for row in rows}) == len(rows)
    assert len({(row["log_id"], row["seq"]) for row in rows}) == len(rows)
    own_server.start()
    for phone in (*phones, *phones):
        phone.send_now()
    for code in codes:
        told = own_server.get(f"/cups/{code}")
        assert "111.3" in told
        assert "Double fill" not in told
    aside = own_server.get("/aside")
    assert not any(code in aside for code in codes)
