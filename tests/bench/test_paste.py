"""T13: a tinted surface coat from the office to the bench with the network gone, and small cups.

Planned 137 g at 100:40 with 5 % paste of part A, cup 8.4 g; A is poured to 106.3. The figures are
those of the trade's arithmetic (tests/cases/additive.json).
"""

from playwright.sync_api import Browser, Locator, expect

from companion.records import catalogue
from companion.records.store import Store
from companion.trade.cards import Additive, Container, Lot
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer

MADE_AT = "2026-03-07T10:00:00.000Z"
CARDS: list[tuple[type[Additive | Lot | Container], Additive | Lot | Container]] = [
    (Additive, Additive("PIG-W", 0, "white pigment paste", 5)),
    (Lot, Lot("PW-31", 0, "PIG-W")),
    (Container, Container("PGCAN4", 0, "PIG-W", "PW-31")),
]


def know_the_paste(server: RunningServer) -> None:
    """Put the cards into the records, beside the running server; the newest revision counts."""
    store = Store(f"sqlite:///{server.data_dir / 'companion.sqlite3'}")
    try:
        for kind, card in CARDS:
            known = [one for one in catalogue.latest(store, kind) if one.code == card.code]
            if not known:
                catalogue.revise(store, card, MADE_AT)
    finally:
        store.close()


def plan_tinted(server: RunningServer, browser: Browser) -> None:
    """Plan two tinted coats by the form; 8 % is refused, 5 % is taken."""
    page = browser.new_page(locale="en-GB")
    page.goto(f"{server.url}/plan")
    page.get_by_label("System").select_option("SRF-A+SRF-B@1")
    page.get_by_label("Total in each cup, g").fill("137")
    page.get_by_label("Number of cups, all alike").fill("2")
    page.get_by_label("Step (optional)").fill("tinted coat")
    page.get_by_label("Paste", exact=True).select_option("PIG-W")
    page.get_by_label("Share of the paste, % of part A").fill("8")
    page.get_by_role("button", name="Plan and give codes").click()
    expect(page.get_by_role("alert")).to_contain_text(
        "8 % asked, at most 5 % by the card of PIG-W: 4.9 g in 97.9 g A."
    )
    page.get_by_label("Share of the paste, % of part A").fill("5")
    page.get_by_role("button", name="Plan and give codes").click()
    expect(page.locator("main")).to_contain_text("2 cups are planned")
    page.close()


def pour_a_and_paste(phone: Phone) -> None:
    """From the empty cup to the hardener's can."""
    phone.read("8.4")
    assert phone.figure() == "106.3"
    phone.read("106.3")
    phone.does_say("Now paste PIG-W until it shows")
    phone.does_say("4.9 g for 97.9 g A")
    phone.does_say("up to 111.2 is fine")
    assert phone.figure() == "111.2"


def mixing(phone: Phone) -> Locator:
    return phone.page.get_by_role("button", name="Start mixing")


def test_a_tinted_coat_is_weighed_with_the_server_dead(
    own_server: RunningServer, make_phone: MakePhone, browser: Browser
) -> None:
    know_the_paste(own_server)
    plan_tinted(own_server, browser)
    phone = make_phone(own_server).install()
    phone.does_say("+ 4.9 g paste PIG-W")
    own_server.kill()
    phone.page.reload()

    # Hardener taken from all that is in the cup, 0.4 x 102.8 g: five per cent too much.
    phone.take("tinted coat")
    phone.say_who()
    pour_a_and_paste(phone)
    phone.read("111.2")
    phone.does_say("then to 150.4 g")
    phone.does_say("39.2 g for A alone, none for the paste")
    phone.open_hardener("SB7CAN")
    assert phone.figure() == "150.4"
    phone.read("152.3")
    phone.does_say("too much hardener (hardener-rich)")
    phone.does_say("+5.0 %")
    expect(mixing(phone)).to_have_count(0)
    phone.page.get_by_role("link", name="Scrap this cup").tap()
    phone.page.get_by_role("button", name="off ratio").tap()
    phone.page.get_by_role("button", name="shallow open tray").tap()
    phone.does_say("Keep it in view until it is cold and hard")
    phone.page.get_by_role("button", name="waste, as local rules say").tap()
    expect(phone.page.locator(".story")).to_be_visible()

    # The phone dies before the paste is read: the same step stands there again.
    phone.open()
    code = phone.take("tinted coat")
    pour_a_and_paste(phone)
    phone.pull_the_battery()
    phone.switch_on()
    phone.open()
    phone.take(code)
    assert phone.figure() == "111.2"
    phone.read("112.3")
    phone.does_say("6.0 g of PIG-W in 97.9 g A is more than the 5 per cent its card allows.")
    phone.page.get_by_role("button", name="Read again").tap()
    phone.read("111.2")
    expect(phone.page.locator("#screen")).not_to_contain_text("its card allows")
    phone.open_hardener("SB7CAN")
    phone.read("150.4")
    phone.does_say("and this scale proves it")
    phone.does_say("A 97.9 g")
    phone.does_say("B 39.2 g")
    phone.does_say("+ 4.9 g PIG-W")
    expect(mixing(phone)).to_be_visible()
    phone.open(f"#/story/{code}")
    phone.does_say("Display after paste PIG-W")
    used = [row for row in phone.rows() if row["kind"] == "lot_used"]
    assert ("PIG-W", "PW-31") in {(row["component"], row["lot"]) for row in used}

    own_server.start()
    phone.send_now()
    phone.page.goto(f"{own_server.url}/cups/{code}")
    expect(phone.page.locator("main")).to_contain_text("4.9 g, 5.0 % of part A")


def test_small_cups_are_refused_or_warned_of_offline(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    start(phone, "20")
    phone.say_crew("O", "S1")
    phone.does_say("rounding alone can spoil a cup of 20.0 g")
    phone.does_say("Smallest cup on this scale: 20.9 g")
    phone.page.get_by_role("link", name="Use another scale").tap()
    phone.say_crew("O", "S2")
    phone.does_say("Smallest cup on this scale: 208.6 g")
    phone.page.get_by_role("link", name="Use another scale").tap()
    phone.say_crew("O", "S1")
    phone.does_say("Smallest cup on this scale: 20.9 g")
    phone.page.get_by_role("link", name="Start a larger cup").tap()
    choose(phone, "30")
    phone.does_say("Scale S1 proves this cup only in part (below 62.6 g)")
    phone.read("8.4")
    # 30 g at 100:30 is 23.1 g A and 6.9 g B.
    assert phone.figure() == "31.5"
    phone.read("31.5")
    phone.does_say("then to 38.4 g")


def start(phone: Phone, total: str) -> None:
    """Start a cup of the laminating system without a plan."""
    phone.page.get_by_role("link", name="Start a cup without a plan").tap()
    choose(phone, total)


def choose(phone: Phone, total: str) -> None:
    """Choose the laminating system and a total."""
    phone.page.locator(".card", has_text="RES-L + SLOW").tap()
    phone.read(total)
