"""What must not be taken as a reading: each gets its own words, and the log stays as it was."""

import pytest
from playwright.sync_api import expect

from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.running import RunningServer

#: Typed while part A is due: cup 8.4, stop 121.0, scale S1 (0.1 g, 3000 g).
REFUSED = {
    "": "Type the figure that stands on the display.",
    " ": "Type the figure that stands on the display.",
    "abc": "“abc” is not a figure.",
    "12a.5": "“12a.5” is not a figure.",
    "121.5g": "“121.5g” is not a figure.",
    "one": "“one” is not a figure.",
    "nan": "“nan” is not a figure.",
    "NaN": "“NaN” is not a figure.",
    "inf": "“inf” is not a figure.",
    "Infinity": "“Infinity” is not a figure.",
    "1e2": "“1e2” is not a figure.",
    "0x79": "“0x79” is not a figure.",
    "1_2.1": "“1_2.1” is not a figure.",
    "１２１.５": "is not a figure",
    "½": "“½” is not a figure.",
    ".5": "“.5” is not a figure.",
    "121.": "“121.” is not a figure.",
    "=121.5": "“=121.5” is not a figure.",
    "+121.5": "“+121.5” is not a figure.",
    "<b>1</b>": "is not a figure",
    "121..5": "“121..5” has two marks.",
    "1.131,5": "“1.131,5” has two marks.",
    "1,131.5": "“1,131.5” has two marks.",
    "1 131.5": "“1 131.5” has two marks.",
    "121,5,": "“121,5,” has two marks.",
    "1'131.5": "has two marks",
    "-121.5": "“-121.5” is below zero.",
    "−121.5": "is below zero",
    "-0.0": "is below zero",
    "9" * 200: "has too many digits",
    "12345678.9": "has too many digits",
    "1131": "1131: did the decimal mark slip? It should be near 113.1.",
    "12.15": "12.15: did the decimal mark slip?",
    "1131.0": "Does 1131.0 stand on the display?",
    "12.1": "Does 12.1 stand on the display?",
    "3,99": "3,99 looks like ounces: 113.1 g.",
    "4.3": "Does 4.3 stand on the display?",
    "121": "Scale S1 shows steps of 0.1 g. Type all its digits",
    "121.50": "Scale S1 shows steps of 0.1 g. Type all its digits",
    "121.505": "Scale S1 shows steps of 0.1 g. Type all its digits",
    "1.131": "Scale S1 shows steps of 0.1 g. Type all its digits",
    "3000.1": "3000.1 is above what scale S1 can weigh, 3000.0 g.",
    "99999.9": "99999.9 is above what scale S1 can weigh, 3000.0 g.",
    "8.3": "8.3 is below the last reading, 8.4.",
    "0.0": "0.0 is below the last reading, 8.4.",
    "5.0": "5.0 is below the last reading, 8.4.",
}


@pytest.fixture
def phone(own_server: RunningServer, make_phone: MakePhone) -> Phone:
    """A phone whose scale carries the empty cup."""
    phone = make_phone(own_server).install()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    return phone


def paste(phone: Phone, text: str) -> None:
    """Put a text into the keypad as a clipboard does; it stands there untouched."""
    phone.page.evaluate(
        """(text) => { const data = new DataTransfer(); data.setData('text', text);
          document.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data })); }""",
        text,
    )


def test_each_bad_reading_gets_its_own_words_and_nothing_is_written(phone: Phone) -> None:
    assert len(REFUSED) >= 40
    before = phone.rows()
    for typed, words in REFUSED.items():
        paste(phone, typed)
        phone.page.locator(".read").tap()
        if words.startswith("Does "):
            dialog = phone.page.locator("dialog[open]")
            expect(dialog, typed).to_contain_text(words)
            phone.answer("No, type again")
        else:
            expect(phone.page.locator(".problem"), typed).to_contain_text(words)
        assert phone.figure() == "121.0"
    assert phone.rows() == before


def test_a_slip_that_is_none_is_taken_once_the_person_says_so(phone: Phone) -> None:
    phone.type("12.1")
    phone.page.locator(".read").tap()
    phone.answer("Yes, it stands there")
    phone.does_say("Scan the can in your hand")
    assert phone.rows()[-1]["value"] == "12.1"


@pytest.mark.parametrize("typed", ["121,5", "١٢١٫٥", "۱۲۱٫۵"])
def test_other_marks_and_digits_are_mapped_and_the_typed_text_is_kept(
    phone: Phone, typed: str
) -> None:
    paste(phone, typed)
    phone.page.locator(".read").tap()
    phone.does_say("Scan the can in your hand")
    assert (phone.rows()[-1]["value"], phone.rows()[-1]["typed"]) == ("121.5", typed)


def test_a_hardware_keyboard_does_what_the_keypad_does(phone: Phone) -> None:
    phone.page.keyboard.type("121.6")
    phone.page.keyboard.press("Backspace")
    phone.page.keyboard.type("5")
    expect(phone.page.locator(".entry-figure")).to_have_text("121.5")
    phone.page.keyboard.press("Enter")
    phone.does_say("Scan the can in your hand")
    assert phone.rows()[-1]["value"] == "121.5"


STARTS = {
    "": "Type the figure",
    "x": "is not a figure",
    "0": "More than 0 g is needed.",
    "150.1": "150.1 g is more than the largest cup of this system, 150 g.",
    "9999999": "is more than the largest cup",
    "1.2.3": "has two marks",
}


def test_a_cup_without_a_plan_wants_a_total_the_system_allows(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    phone.page.get_by_role("link", name="Start a cup without a plan").tap()
    phone.page.locator(".start .card", has_text="RES-L + SLOW").tap()
    for typed, words in STARTS.items():
        paste(phone, typed)
        phone.page.locator(".read").tap()
        expect(phone.page.locator(".problem"), typed).to_contain_text(words)
    assert phone.rows() == []
