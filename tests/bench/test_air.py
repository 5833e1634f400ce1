"""Air and mould: a cold damp morning (T11), measured and judged with the network gone.

15 °C, 74 %, mould 12.5 °C: dew point 10.4, margin 2.1 K, hold. Heated to 20 °C, 54 %, mould 18:
7.6 K, go. The figures are those of tests/cases/air.json (WMO-No. 8, Annex 4.B, worked by hand).
"""

from datetime import UTC, datetime, timedelta

from playwright.sync_api import Browser, expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer

SLOW_CAN = "HRD2SM"


def measure(phone: Phone, air: str, humidity: str, mould: str) -> None:
    """From the screen Air and mould: three figures, and back on it."""
    phone.press(phone.page.locator(".air .action"))
    phone.read(air)
    phone.read(humidity)
    phone.type(mould)
    phone.press(phone.page.locator(".read"))
    expect(phone.page.locator(".air .verdict")).to_be_visible()


def test_a_cold_damp_morning_is_held_until_the_mould_is_warm(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    link = phone.page.locator(".air-link")
    # What another phone measured counts here, too.
    expect(link).to_contain_text("Air and mould: go")
    phone.press(link)
    measure(phone, "15", "74", "12.5")
    phone.does_say("mould 2.1 K above the dew point, 3 K are asked")
    phone.does_say("never with a flame")
    expect(phone.page.locator(".air h1").last).to_have_text("Hold")
    expect(phone.page.locator(".air dd")).to_have_text(
        ["15 °C", "74 %", "12.5 °C", "10.4 °C", "69 %"]
    )

    # A phone that died comes back to the same answer; the line on Next cups says it, too.
    phone.pull_the_battery()
    phone.switch_on()
    phone.open()
    expect(phone.page.locator(".air-link")).to_have_text("Air and mould: hold, 2.1 K")
    phone.press(phone.page.locator(".air-link"))
    measure(phone, "20", "54", "18")
    expect(phone.page.locator(".air h1").last).to_have_text("Go")
    phone.does_say("mould 7.6 K above the dew point")
    phone.does_say("Blush can come above the dew point")

    measured = [row for row in phone.rows() if row["kind"] == "climate"]
    assert [(row["component"], row["value"], row["unit"]) for row in measured[:3]] == [
        ("air", "15", "Cel"),
        ("humidity", "74", "%"),
        ("mould", "12.5", "Cel"),
    ]
    assert {row["cup"] + row["after"] for row in measured} == {""}

    # Two hours later nobody may rely on it.
    assert phone.context is not None
    phone.context.clock.set_fixed_time(datetime.now(UTC) + timedelta(minutes=121))
    phone.open().open("#/air")
    phone.does_say("The figures are more than 2 hours old.")
    phone.context.clock.set_fixed_time(datetime.now(UTC))

    own_server.start()
    phone.send_now()
    exported = own_server.get("/export.csv").splitlines()
    own = [line for line in exported if line.startswith(f"1,{phone.fact('log_id')},")]
    assert sum(",climate," in line for line in own) == 6


def test_a_warm_shop_shortens_the_pot_life_and_a_slip_of_the_unit_is_named(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install().open("#/measure")
    own_server.kill()
    phone.read("86")
    phone.does_say("86 is not in 0 to 50 °C. If it is degrees Fahrenheit, that is 30.0 °C")
    phone.page.keyboard.press("Backspace")
    phone.page.keyboard.press("Backspace")
    phone.page.keyboard.type("-5")
    phone.press(phone.page.locator(".read"))
    phone.does_say("Below 0 °C nothing is laid up.")
    for _ in "-5":
        phone.page.keyboard.press("Backspace")
    phone.read("30")
    phone.type("0.4")
    phone.press(phone.page.locator(".read"))
    phone.does_say("0.4 looks like a share. Is 40 % meant?")
    phone.answer("Yes, 40 %")
    phone.does_say("How warm is the mould?")
    # Each figure is on disk as soon as it is read; one that is typed again strikes the one before.
    assert [row["value"] for row in phone.rows()] == ["30", "40"]
    phone.press(phone.page.get_by_role("button", name="Back"))
    phone.does_say("How humid is the air?")
    phone.read("41")
    phone.type("28")
    phone.press(phone.page.locator(".read"))
    expect(phone.page.locator(".air h1").last).to_have_text("Go")
    rows = phone.rows()
    assert [row["typed"] for row in rows] == ["30", "0.4", "", "41", "28"]
    assert [row["value"] for row in rows] == ["30", "40", "", "41", "28"]
    assert (rows[2]["kind"], rows[2]["refers_to"]) == ("voided", rows[1]["event_id"])

    # 150 g at 25 °C are 106 at 30; 45 min are 31 (T11).
    phone.open()
    phone.take("ply 1")
    phone.say_who()
    phone.does_say("At 30 °C the largest cup of this system is 106 g, and this one is larger.")
    phone.read("8.4")
    phone.read("121.5")
    phone.does_say("Pot life: 31 min at 30 °C, sheet 45 min at 25 °C.")
    phone.open_hardener(SLOW_CAN)
    phone.read("155.4")
    phone.does_say("Total 147.0 g is over this system’s 106 g")
    phone.does_say("31 min at 30 °C, sheet 45 min at 25 °C, for 100 g")
    expect(phone.page.locator(".verdict-in")).to_be_visible()

    # The shop cools: the verdict stays, the clock that runs gets no longer, the cure is slower.
    phone.open("#/air")
    measure(phone, "15", "60", "14")
    phone.open()
    phone.press(phone.page.locator(".card", has_text="Hatch cover 14").first)
    phone.does_say("31 min at 30 °C, sheet 45 min at 25 °C, for 100 g")
    phone.does_say("14 °C, sheet 25 °C: slower cure likely")
    expect(phone.page.locator(".verdict-in")).to_be_visible()


def test_below_the_sheet_s_least_temperature_it_warns(
    server: RunningServer, browser: Browser
) -> None:
    page = browser.new_page()
    page.goto(f"{server.url}/rescue")
    told = page.evaluate(
        """async () => {
          const { leastTemperatureWords } = await import('/static/bench/screens/warmth-words.js');
          const air = { air_c: 15, mould_c: 12.5, air_age_min: 5, mould_age_min: 5 };
          const words = (minimum_c, more) =>
            leastTemperatureWords({ system: { minimum_c }, air: { ...air, ...more } });
          return [
            words(15, {}), words(12.5, {}), words(null, {}), words(undefined, {}),
            words(15, { mould_age_min: 121 }),
          ];
        }"""
    )
    page.close()
    assert [len(words) for words in told] == [1, 0, 0, 0, 0]
    assert told[0][0].startswith("12.5 °C is below the sheet’s least temperature, 15 °C.")


def test_a_smallest_cup_is_rounded_up_and_says_what_it_rests_on(
    server: RunningServer, browser: Browser
) -> None:
    page = browser.new_page()
    page.goto(f"{server.url}/rescue")
    told = page.evaluate(
        """async () => {
          const { scaleNotes } = await import('/static/bench/screens/target-words.js');
          const shop = { air_c: null, mould_c: null, air_age_min: null, mould_age_min: null };
          const said = (...cautions) => scaleNotes({
            advice: { cautions: ['proves_in_part', ...cautions], smallest_cup_g: 62.51 },
            scale: { code: 'S1' }, known: { code: '', rows: [] }, system: {}, air: shop,
            additive: null,
          }).map((note) => note.textContent);
          return [...said('display_step_only'), ...said()];
        }"""
    )
    page.close()
    assert told == [
        "⚠Scale S1 proves this cup only in part (below 62.6 g), from the display step only.",
        "⚠Scale S1 proves this cup only in part (below 62.6 g).",
    ]
