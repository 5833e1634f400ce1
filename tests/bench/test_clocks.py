"""Several clocks at once, offline: sorted by the next limit, each says what to do, none is lost.

45 min of pot life at 25 degC from 10:14: three quarters at 10:47:45, over at 10:59. Part A may wait
30 min uncovered (common practice, no source).
"""

import json
import re
from datetime import UTC, datetime, timedelta

import pytest
from icalendar import Calendar
from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.bench.sheet_acts import set_clock
from tests.cases import CASES
from tests.running import RunningServer

CALENDAR_OF = """async (time) =>
  (await import('/static/bench/calendar.js')).calendarOf([time], time.at)"""
CALENDAR = json.loads((CASES / "calendar.json").read_text(encoding="utf-8"))


def running_cup(phone: Phone) -> str:
    """Hardener opened at 10:14, mixing since 10:16."""
    set_clock(phone, "10:10")
    phone.open()
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.read("121.5")
    set_clock(phone, "10:14")
    phone.open_hardener("HRD2SM")
    phone.read("155.4")
    set_clock(phone, "10:16")
    phone.press(phone.page.get_by_role("button", name="Start mixing"))
    phone.does_say("Scrape half way, at")
    return code


def clock(phone: Phone, words: str):
    return phone.page.locator(".clock", has_text=words).first


def test_they_are_sorted_by_their_next_limit_and_each_says_what_to_do(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    code = running_cup(phone)
    phone.open("#/clocks")
    titles = phone.page.locator(".clock strong").all_inner_texts()
    # Mixing is scraped at 10:17:30, the pot life warns at 10:47.
    assert titles.index(f"Mixing · {code}") < titles.index(f"Pot life · {code}")
    expect(clock(phone, f"Mixing · {code}")).to_contain_text("Scrape wall, base and stick.")
    expect(clock(phone, f"Mixing · {code}")).to_contain_text("1:30")
    expect(clock(phone, f"Pot life · {code}")).to_contain_text("31:45")
    expect(clock(phone, f"Pot life · {code}")).to_contain_text("Three quarters by then")
    first = phone.page.locator(".clocks section").first
    times = first.locator(".clock-left").evaluate_all("(all) => all.map((one) => one.dataset.at)")
    limits = [at for at in times if at]
    assert limits == sorted(limits)
    assert len(limits) >= 3
    set_clock(phone, "10:48")
    expect(clock(phone, f"Pot life · {code}")).to_contain_text("Three quarters are gone")
    expect(clock(phone, f"Pot life · {code}")).to_contain_text("11:00")
    set_clock(phone, "10:59")
    expect(clock(phone, f"Pot life · {code}")).to_contain_text("Do not lay it up")
    phone.press(clock(phone, f"Pot life · {code}").locator(".clock-link"))
    phone.does_say("Past its pot life: do not lay up")


def test_an_alarm_is_said_on_any_screen_and_silenced_for_this_limit_only(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    code = running_cup(phone)
    phone.listen()
    phone.open("#/phone")
    alarm = phone.page.locator("#alarm")
    set_clock(phone, "10:18")
    expect(alarm).to_contain_text("Scrape wall, base and stick.")
    phone.page.wait_for_function("() => window.tones >= 1")
    phone.press(alarm.get_by_role("button", name="Silence it"))
    expect(alarm).not_to_contain_text("Scrape wall")
    # Silenced, it stays on the list.
    phone.open("#/clocks")
    expect(clock(phone, f"Mixing · {code}")).to_contain_text("silenced")
    phone.open("#/phone")
    set_clock(phone, "10:48")
    expect(alarm).to_contain_text("Three quarters are gone")
    phone.press(alarm.get_by_role("button", name="Silence it"))
    # The next limit of the same clock is another alarm.
    set_clock(phone, "10:59")
    expect(alarm).to_contain_text("Do not lay it up")
    assert phone.page.evaluate("window.shaken") == 0


def test_what_passed_while_the_app_was_closed_is_said_on_return(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    code = running_cup(phone)
    phone.pull_the_battery()
    phone.switch_on()
    set_clock(phone, "11:05")
    phone.open()
    phone.does_say("You were here 49 minutes ago")
    phone.press(phone.page.get_by_role("link", name="Next cups"))
    expect(phone.page.locator("#alarm")).to_contain_text("Do not lay it up")
    expect(phone.page.locator("#alarm")).to_contain_text(code)


def test_it_says_what_a_locked_phone_does_not_allow(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    phone.open("#/clocks")
    phone.does_say("A locked screen or a closed app may stay silent")
    phone.does_say("notices")


def firing(event, alarm) -> list[datetime]:
    """When an alarm rings: start + trigger + k x duration, k = 0 to repeat (RFC 5545 3.6.6)."""
    start = event.decoded("DTSTART")
    trigger = alarm.decoded("TRIGGER")
    again = alarm.decoded("DURATION") if "DURATION" in alarm else timedelta(0)
    repeats = int(alarm.get("REPEAT", 0))
    return [start + trigger + again * k for k in range(repeats + 1)]


def test_the_reader_of_calendars_agrees_with_the_standard() -> None:
    for case in CALENDAR["firing"]:
        text = (
            f"BEGIN:VEVENT\r\nUID:1\r\nDTSTART:20260307T120000Z\r\n{case['valarm']}END:VEVENT\r\n"
        )
        event = Calendar.from_ical(text)
        rings = [at.strftime("%Y-%m-%dT%H:%M:%SZ") for at in firing(event, event.walk("VALARM")[0])]
        assert rings == case["expect"]


#: A value of 3.3.6: weeks stand alone, minutes stand between hours and seconds, no fractions.
DURATION = re.compile(
    r"[+-]?P(\d+W|(\d+D(T(\d+H(\d+M(\d+S)?)?|\d+M(\d+S)?|\d+S))?)|"
    r"T(\d+H(\d+M(\d+S)?)?|\d+M(\d+S)?|\d+S))"
)


def test_triggers_are_durations_of_the_standard(page) -> None:
    for case in CALENDAR["durations"]:
        assert bool(DURATION.fullmatch(case["value"])) is case["valid"], case["value"]
    text = page.evaluate(
        CALENDAR_OF,
        {"uid": "x", "at": "2026-03-07T10:47:45.000Z", "title": "t", "text": "t"},
    )
    triggers = re.findall(r"TRIGGER:(.*)\r\n", text)
    assert triggers
    assert all(DURATION.fullmatch(trigger) for trigger in triggers)


def test_long_times_are_handed_to_the_calendar(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, timezone_id="UTC").install()
    own_server.kill()
    phone.open("#/clocks")
    with phone.page.expect_download() as download:
        phone.press(phone.page.get_by_role("button", name="Hand to the calendar"))
    raw = download.value.path().read_bytes()
    assert download.value.suggested_filename == "clocks.ics"
    lines = raw.split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 for line in lines)
    assert b"\n" not in raw.replace(b"\r\n", b"")
    calendar = Calendar.from_ical(raw)
    assert (calendar["VERSION"], str(calendar["PRODID"])[:3]) == ("2.0", "-//")
    events = calendar.walk("VEVENT")
    told = phone.page.evaluate(
        """async () => { const clocks = await import('/static/bench/clocks.js');
          const all = clocks.clocksNow(await clocks.keptForClocks());
          return all.filter(({ kind, tempo, next_at }) => next_at && tempo === 'running'
            && /^(opens_tack|closes_|opens_cure|opens_demould|full_cure)/.test(kind))
            .map(({ next_at }) => next_at); }"""
    )
    assert len(events) == len(told) > 0
    for event, at in zip(events, told, strict=True):
        start = event.decoded("DTSTART")
        assert start == datetime.fromisoformat(at).replace(microsecond=0)
        assert start.tzinfo is not None
        assert start.utcoffset() == timedelta(0)
        assert event.decoded("DTSTAMP").tzinfo is not None
        assert event["SUMMARY"]
        assert "The data sheet decides." in event["DESCRIPTION"]
        alarms = event.walk("VALARM")
        assert [str(alarm["ACTION"]) for alarm in alarms] == ["DISPLAY", "DISPLAY"]
        assert all(alarm["DESCRIPTION"] for alarm in alarms)
        rings = [at for alarm in alarms for at in firing(event, alarm)]
        assert rings == [start - timedelta(minutes=5), start]
    assert len({str(event["UID"]) for event in events}) == len(events)
    # Handed over again, the same times are the same events.
    with phone.page.expect_download() as second:
        phone.press(phone.page.get_by_role("button", name="Hand to the calendar"))
    again = Calendar.from_ical(second.value.path().read_bytes()).walk("VEVENT")
    assert [str(event["UID"]) for event in again] == [str(event["UID"]) for event in events]


@pytest.fixture(scope="module")
def page(server, browser):
    page = browser.new_page(bypass_csp=True)
    page.goto(f"{server.url}/static/bench/calendar.js")
    yield page
    page.close()


def test_texts_are_escaped_and_lines_folded_as_the_standard_says(page) -> None:
    made = page.evaluate(
        """async ({ texts, lines }) => {
          const { escapeText, foldLine } = await import('/static/bench/calendar.js');
          return { texts: texts.map(escapeText), lines: lines.map(foldLine) }; }""",
        {
            "texts": [case["text"] for case in CALENDAR["escaped"]],
            "lines": [case["line"] for case in CALENDAR["folded"]],
        },
    )
    assert made["texts"] == [case["expect"] for case in CALENDAR["escaped"]]
    for case, folded in zip(CALENDAR["folded"], made["lines"], strict=True):
        pieces = folded.split("\r\n")
        assert [len(piece.encode()) for piece in pieces] == case["expect"]
        assert pieces[0] + "".join(piece[1:] for piece in pieces[1:]) == case["line"]


def test_a_time_with_letters_of_every_width_comes_back_whole(page) -> None:
    at = "2026-03-07T10:47:45.000Z"
    title = "Lüftung, Härter; 樹脂 🧪\\ 10:14\nzweite Zeile " + "ä" * 90
    text = page.evaluate(
        CALENDAR_OF,
        {"uid": "x@scale-companion", "at": at, "title": title, "text": title},
    )
    assert all(len(line) <= 75 for line in text.encode().split(b"\r\n"))
    event = Calendar.from_ical(text.encode()).walk("VEVENT")[0]
    assert str(event["SUMMARY"]) == title
    assert event.decoded("DTSTART") == datetime(2026, 3, 7, 10, 47, 45, tzinfo=UTC)
