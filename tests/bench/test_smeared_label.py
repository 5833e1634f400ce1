"""A label that cannot be read: 155.4, 155.1 and 139.2 g on record, 155.3 on the scale."""

from playwright.sync_api import Locator, expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer


def cup(phone: Phone, total: str, *readings: str) -> str:
    """A cup without a plan: the empty cup, part A, and hardener where it is given."""
    phone.open("#/start")
    phone.press(phone.page.locator(".start .card", has_text="RES-L + SLOW"))
    phone.type(total)
    phone.press(phone.page.locator(".read"))
    expect(phone.page.locator(".weigh, .crew")).to_be_visible()
    if phone.page.locator(".screen.crew").count():
        phone.say_who()
    phone.read("8.4")
    phone.read(readings[0])
    phone.does_say("Scan the can in your hand")
    code = phone.page.locator(".cup-header .code").inner_text()
    for reading in readings[1:]:
        phone.open_hardener("HRD2SM")
        phone.read(reading)
        phone.does_say("Start mixing")
    return code


def describe(phone: Phone, letters: str, weight: str) -> None:
    phone.open()
    phone.press(phone.page.get_by_role("link", name="Label cannot be read"))
    for letter in letters:
        phone.press(phone.page.locator(".code-keys .key").get_by_text(letter, exact=True))
    phone.press(phone.page.get_by_role("button", name="Now weigh it"))
    phone.type(weight)
    phone.press(phone.page.locator(".read"))


def cards(phone: Phone) -> Locator:
    return phone.page.locator(".smeared .card")


def test_letters_and_weight_propose_and_a_person_chooses(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    codes = [
        cup(phone, "147.0", "121.5", "155.4"),
        cup(phone, "146.7", "121.2", "155.1"),
        cup(phone, "130.8", "139.2"),
    ]
    before = len(phone.rows())
    # No letter is left, and the weight fits two.
    describe(phone, "", "155.3")
    expect(cards(phone)).to_have_count(2)
    for code, mass in zip(codes, ("155.4", "155.1"), strict=False):
        card = cards(phone).filter(has=phone.page.locator(".code", has_text=code))
        expect(card).to_contain_text(f"{mass} g on record")
        expect(card).to_contain_text("No job")
        expect(card).to_contain_text("· O")
    phone.does_say("the app does not choose")
    assert len(phone.rows()) == before

    # The letters of one cup, two of them gone: still nothing is chosen for anybody.
    read = codes[1][:1] + "?" + codes[1][2:5] + "?"
    describe(phone, read, "155.3")
    mine = cards(phone).filter(has=phone.page.locator(".code", has_text=codes[1]))
    expect(mine).to_have_count(1)
    assert len(phone.rows()) == before
    # Letters that fit another weight are told apart.
    describe(phone, codes[2][:4], "155.3")
    phone.does_say("Letters fit, weight does not")
    describe(phone, read, "155.3")
    phone.press(mine)
    phone.does_say(f"The new label of cup {codes[1]}")
    note = phone.rows()[-1]
    assert (note["kind"], note["note"]) == ("note", "found by letters and weight")
    assert (note["target"], note["value"], note["cup"]) == (read, "155.3", codes[1])


def test_what_nobody_can_name_goes_into_no_part_and_has_an_end(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    cup(phone, "130.8", "139.2")
    describe(phone, "", "155.3")
    phone.does_say("No open cup that this phone knows fits.")
    phone.press(phone.page.get_by_role("button", name="None of these: unidentified"))
    phone.does_say("Not for a part")
    code = phone.page.locator(".code-large").inner_text()
    # Neither scanning nor its address leads to weighing or pouring.
    phone.open(f"#/weigh/{code}")
    phone.does_say("Not for a part")
    phone.open(f"#/poured/{code}")
    phone.does_say("Not for a part")
    phone.pull_the_battery()
    phone.switch_on()
    phone.open()
    section = phone.page.locator("section", has_text="Unidentified").first
    expect(section).to_contain_text("155.3 g")
    phone.press(section.locator(".card"))
    phone.press(phone.page.get_by_role("button", name="shallow open tray, in view"))
    phone.does_say("left to set since")
    phone.press(phone.page.get_by_role("button", name="waste, as local rules say"))
    expect(phone.page.locator(".story")).to_be_visible()
    phone.open()
    expect(phone.page.locator("section", has_text="Unidentified")).to_have_count(0)

    own_server.start()
    phone.send_now()
    phone.page.goto(f"{own_server.url}/cups/{code}")
    main = phone.page.locator("main")
    expect(main).to_contain_text("label not readable, fits no cup: unidentified")
    expect(main).to_contain_text("155.3")
    expect(main).to_contain_text("nobody could say which cup it is. Not into a part.")
    expect(main).to_contain_text("letters left: ??????")
    # It draws from no can: what is drawn is what the cups that are known drew.
    lots = [row for row in phone.rows() if row["kind"] == "lot_used"]
    assert all(row["cup"] != code for row in lots)
