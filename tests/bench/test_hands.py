"""Sticky gloves, one clean knuckle: large keys, a screen that stays on, a voice if wished."""

import pytest
from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer

#: About 7 mm at the 6.3 px of a small phone's mm; keys of acts are larger. Common practice.
LEAST_PX = 44
SMALL = {"width": 360, "height": 740}
TOO_SMALL = f"""() => [...document.querySelectorAll('#screen button, #screen a, dialog button')]
  .filter((key) => key.checkVisibility())
  .map((key) => [key.textContent.trim() || key.className, key.getBoundingClientRect()])
  .filter(([, box]) => box.height < {LEAST_PX} - 0.5 || box.width < {LEAST_PX} - 0.5)
  .map(([name, box]) => `${{name}} ${{Math.round(box.width)}} x ${{Math.round(box.height)}}`)"""
OVERFLOW = "() => document.documentElement.scrollWidth - window.innerWidth"


def look(phone: Phone, where: str) -> None:
    """Every key of the screen can be hit with a knuckle, and nothing runs over its edge."""
    assert phone.page.evaluate(TOO_SMALL) == [], where
    assert phone.page.evaluate(OVERFLOW) <= 0, where


@pytest.mark.parametrize("setting", ["", "Larger digits", "Keys for the left hand"])
def test_every_screen_of_a_cup_can_be_worked_with_a_knuckle(
    own_server: RunningServer, make_phone: MakePhone, setting: str
) -> None:
    phone = make_phone(own_server, viewport=SMALL, screen=SMALL).install()
    if setting:
        phone.open("#/phone")
        phone.page.get_by_label(setting).check()
        phone.comes_to_know("large_digits" if "digits" in setting else "left_hand", True)
    phone.open()
    look(phone, "next cups")
    code = phone.take("ply 1")
    phone.say_who()
    look(phone, "empty cup")
    phone.read("8.4")
    look(phone, "part A")
    if "left" in setting:
        read = phone.page.locator(".read").bounding_box()
        field = phone.page.locator(".entry-field").bounding_box()
        assert read and field and read["x"] < field["x"]
    phone.read("121.5")
    look(phone, "hardener")
    phone.open_hardener("HRD2SM")
    phone.read_as_it_stands("158.5")
    look(phone, "out")
    phone.press(phone.page.get_by_role("button", name="Pour A to 168.7"))
    phone.read("168.7")
    look(phone, "in")
    phone.press(phone.page.get_by_role("button", name="Start mixing"))
    phone.does_say("Scrape half way")
    look(phone, "mixing")
    for screen in ("story", "strike", "scrap", "restarted"):
        phone.open(f"#/{screen}/{code}")
        expect(phone.page.locator(f".screen.{screen}")).to_be_visible()
        look(phone, screen)


def test_larger_digits_are_larger_and_are_kept(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server, viewport=SMALL, screen=SMALL).install()
    phone.take("ply 3")
    phone.say_who()
    size = "parseFloat(getComputedStyle(document.querySelector('.giant-figure')).fontSize)"
    before = phone.page.evaluate(size)
    phone.open("#/phone")
    phone.page.get_by_label("Larger digits").check()
    phone.comes_to_know("large_digits", True)
    phone.pull_the_battery()
    phone.switch_on()
    phone.open()
    phone.take("ply 3")
    assert phone.page.evaluate(size) > before * 1.1


def test_where_the_phone_may_switch_its_screen_off_it_says_so(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    phone.take("ply 1")
    phone.say_who()
    note = phone.page.locator(".sleep-note")
    expect(note).to_be_attached()
    expect(note).to_be_hidden()
    assert phone.context is not None
    phone.context.add_init_script(
        "navigator.wakeLock.request = () => Promise.reject(new Error('battery saver'));"
    )
    phone.page.reload()
    expect(phone.page.locator("html[data-started]")).to_be_attached()
    expect(note).to_contain_text("This phone may switch its screen off")


def test_target_and_verdict_are_said_once_where_it_was_wished_for(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server)
    assert phone.context is not None
    phone.context.add_init_script(
        """window.spoken = []; const speak = speechSynthesis.speak.bind(speechSynthesis);
        speechSynthesis.speak = (speech) => { window.spoken.push(speech.text); speak(speech); };"""
    )
    phone.install()
    phone.take("ply 3")
    phone.say_who()
    phone.read("121.5")
    assert phone.page.evaluate("window.spoken") == []
    phone.open("#/phone")
    phone.page.get_by_label("Say targets and verdicts aloud").check()
    phone.comes_to_know("speech_on", True)
    phone.open()
    phone.press(phone.page.locator(".card", has_text="A weighed").first)
    phone.open_hardener("HRD2SM")
    phone.page.wait_for_function("() => window.spoken.length === 1")
    phone.read("155.5")
    phone.page.wait_for_function("() => window.spoken.length === 2")
    target, verdict = phone.page.evaluate("window.spoken")
    assert target == "Now hardener SLOW until it shows 155.4"
    assert "In" in verdict
    assert "this scale proves it" in verdict
    # Drawn anew, it is said no second time.
    phone.page.evaluate("location.hash = '#/'")
    expect(phone.page.locator(".next-cups")).to_be_visible()
    phone.page.go_back()
    phone.does_say("Start mixing")
    assert len(phone.page.evaluate("window.spoken")) == 2
