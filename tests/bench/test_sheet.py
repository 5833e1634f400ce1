"""The lay-up sheet on the phone, with the network gone: the tack window, missed over night (T12).

SRF ended 09:45, 4 to 8 h at 20 degC; RES-L onto itself 2 to 6 h at 20 degC; the shop has 18 degC.
"""

from typing import Any

from playwright.sync_api import expect

from tests.bench import lay_up_shop
from tests.bench.conftest import MakePhone
from tests.bench.sheet_acts import measure, set_clock, tap, write
from tests.running import RunningServer


def steps_of(rows: list[dict[str, Any]], kind: str) -> list[tuple[str, str]]:
    return [(row["step"], row["shown"]) for row in rows if row["kind"] == kind and not row["cup"]]


def test_a_missed_tack_window_makes_the_next_ply_a_secondary_bond(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    lay_up_shop.describe(own_server)
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    set_clock(phone, "09:20")
    measure(phone, "18", "50", "18")
    phone.open()
    phone.page.get_by_role("link", name="Lay-up sheets").tap()
    phone.page.locator(".card", has_text=lay_up_shop.COVER).tap()
    phone.does_say("first: mould check")
    phone.page.locator(".current-step").tap()
    tap(phone, "Done")

    tap(phone, "Next: surface coat")
    set_clock(phone, "09:30")
    tap(phone, "Start")
    phone.does_say("in work since 09:30")
    set_clock(phone, "09:45")
    tap(phone, "Done")
    tap(phone, "Next: finger test")
    phone.does_say("wait until 14:21")
    phone.does_say("opens 14:21, closes 17:45")
    phone.does_say("times for 18 °C")
    phone.does_say("4 h 36 min")

    # The phone dies: the clocks are those of the wall.
    phone.pull_the_battery()
    phone.switch_on()
    set_clock(phone, "17:20")
    phone.open("#/step/77@1/tack")
    phone.does_say("test now, until 17:45")
    phone.does_say("25:00")
    tap(phone, "Sticks to the finger: not yet")
    phone.does_say("Tested: not yet.")
    tap(phone, "Print stays, finger clean")
    tap(phone, "Next: ply 1")

    # Nobody has measured for two hours: a reason is written, or air and mould are measured.
    set_clock(phone, "17:30")
    tap(phone, "Start")
    phone.does_say("Measure air and mould first")
    phone.answer("Begin for this reason", "thermometer is broken")
    phone.does_say("in work since 17:30")
    phone.does_say("bonds by itself")
    set_clock(phone, "17:44")
    tap(phone, "Done")
    tap(phone, "Next: ply 2")
    phone.does_say("may begin, until 23:44")

    # Called away; back the next morning: the screen that lay open says so by itself.
    set_clock(phone, "09:00", days=1)
    phone.does_say("prepare the surface first")
    expect(phone.page.get_by_role("button", name="Start")).to_have_count(0)
    phone.page.get_by_label("Grit", exact=True).fill("9")
    tap(phone, "Washed, abraded, wiped")
    phone.does_say("Grit “9”: a whole number from 16 to 2500.")
    phone.page.get_by_role("button", name="80", exact=True).tap()
    tap(phone, "Washed, abraded, wiped")
    phone.does_say("grit 80: washed, abraded, wiped")
    tap(phone, "Take it back")
    phone.answer("Take it back", "wrong grit")
    phone.page.get_by_role("button", name="120", exact=True).tap()
    phone.page.get_by_label("Who prepared it").select_option("H")
    tap(phone, "Washed, abraded, wiped")
    phone.does_say("on a prepared surface")
    phone.does_say("grit 120: washed, abraded, wiped")
    measure(phone, "18", "50", "18")
    tap(phone, "Start")
    phone.does_say("in work since 09:00")

    # A server of a later version names a step this app does not know.
    words = phone.page.evaluate(
        """async (step) => {
          const of = await import('/static/bench/screens/step-texts.js');
          return [of.taskWords(step), of.cautionWords(step)];
        }""",
        {"name": "vacuum bag", "kind": "vacuum", "system": ""},
    )
    assert "vacuum bag" in words[0]
    assert "safety data sheet" in words[1]

    rows = phone.rows()
    assert steps_of(rows, "step_started") == [
        ("surface coat", ""),
        ("ply 1", "primary"),
        ("ply 2", "secondary"),
    ]
    prepared = [
        row for row in rows if row["step"] == "prepare ply 2" and row["kind"] == "step_done"
    ][-1]
    assert (prepared["person"], prepared["note"]) == ("H", "grit 120, wash, abrade, wipe")
    deviation = next(row for row in rows if row["kind"] == "deviation")
    begun = next(row for row in rows if row["event_id"] == deviation["refers_to"])
    assert (begun["kind"], begun["step"]) == ("step_started", "ply 1")
    ended = {row["step"]: row["refers_to"] for row in rows if row["kind"] == "step_done"}
    starts = {row["step"]: row for row in rows if row["kind"] == "step_started"}
    assert ended["ply 1"] == starts["ply 1"]["event_id"]
    assert starts["ply 2"]["refers_to"] == next(
        row["event_id"] for row in rows if (row["kind"], row["step"]) == ("step_done", "ply 1")
    )
    assert {row["after"] for row in rows if not row["cup"]} == {""}
    own_server.start()
    phone.send_now()
    assert phone.fact("holdings")["aside"] == {}


def test_release_coats_and_cups_are_told_to_their_step(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    lay_up_shop.describe(own_server)
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    set_clock(phone, "16:00")
    # A cup made for another revision of a job keeps the name of its part.
    parts = phone.page.evaluate(
        "async () => ['78@9', '79@1'].map((await import('/static/bench/cups.js')).partOf)"
    )
    assert parts == [lay_up_shop.NEXT, "79@1"]
    phone.open("#/step/78@1/release 1")
    tap(phone, "First: mould check")
    tap(phone, "Done")
    tap(phone, "Next: release coat 1")
    tap(phone, "Done")
    tap(phone, "Next: release coat 2")
    phone.does_say("wait until 16:30")
    set_clock(phone, "16:30")
    phone.does_say("may begin")
    # Another window says so first: nothing is written twice.
    write(phone, {"kind": "step_done", "job": "78@1", "step": "release 2"})
    tap(phone, "Done")
    phone.does_say("This step has changed")
    phone.answer("Look again")
    tap(phone, "Next: ply 1")
    phone.does_say("wait until 17:30")
    # Too early: only with a written reason, that stays beside it.
    measure(phone, "20", "50", "12")
    tap(phone, "Begin before its time")
    phone.answer("Go on for this reason", "trial part")
    phone.does_say("The mould is too close to the dew point")
    phone.answer("Begin for this reason", "trial part")
    phone.does_say("12 °C measured, at least 15 °C for RES-L + SLOW.")
    phone.answer("Begin for this reason", "warming")
    phone.does_say("in work since 16:30")
    tap(phone, "Take it back")
    phone.answer("Take it back", "wrong job")
    phone.does_say("wait until 17:30")

    phone.open("#/step/77@1/ply 1")
    phone.page.locator(".step .card", has_text="146.4").first.tap()
    for reading in ("8.4", "121.5"):
        phone.read(reading)
    phone.open_hardener("HRD2SM")
    phone.read("155.5")
    phone.mix()
    # The step is not open: its reason is told, and one has to be written.
    phone.does_say("ply 1 is not open: first: finger test.")
    tap(phone, "Poured into the part: ply 1")
    phone.answer("No")
    tap(phone, "Poured into the part: ply 1")
    phone.answer("Go on for this reason", "laid up already")
    phone.does_say("Poured into Inspection cover · ply 1")
    tap(phone, "Into another step")
    # The surface coat takes another resin.
    expect(phone.page.locator(".poured .card")).to_have_count(2)
    phone.page.locator(".poured .card", has_text="ply 2").tap()
    phone.does_say("ply 2 is not open: first: ply 1.")
    phone.answer("Go on for this reason", "the rest")
    phone.does_say("Poured into Inspection cover · ply 2")
    rows = phone.rows()
    poured = [(row["job"], row["step"], row["note"]) for row in rows if row["kind"] == "poured"]
    assert poured == [("77@1", "ply 1", "laid up already"), ("77@1", "ply 2", "the rest")]
    struck = next(row for row in rows if row["kind"] == "voided")
    begun = next(row for row in rows if row["event_id"] == struck["refers_to"])
    assert (begun["kind"], begun["step"]) == ("step_started", "ply 1")
