"""Scan: labels of our own paper before the camera of a real browser, with the server gone."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import expect

from companion.paper.labels import BlankLabel, Label, Words, container_label, cup_label
from companion.paper.pdf import render
from companion.paper.sheet import ROLL_62X29
from companion.trade.cards import Container
from tests.bench import camera
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.paper.raster import rasterise
from tests.paper.samples import SYSTEM
from tests.running import RunningServer

#: A code that was never given out by any server.
UNUSED = "9B3XWD"
HARDENER, FAST_HARDENER, RESIN = "HRD2SM", "HRD7FU", "RES3LS"
Show = Callable[[Image.Image], None]


@pytest.fixture
def feed(tmp_path: Path) -> Path:
    """The file that stands in the camera's place."""
    path = tmp_path / "camera.y4m"
    camera.show(path, camera.nothing())
    return path


@pytest.fixture
def phone(own_server: RunningServer, make_phone: MakePhone, feed: Path) -> Phone:
    """A phone with a camera, everything installed."""
    return make_phone(own_server, flags=camera.flags(feed)).install()


def printed(label: Label, folder: Path, base: str = "") -> Image.Image:
    """A label as our own PDF prints it, at 300 dpi."""
    (page,) = rasterise(render([label], ROLL_62X29, base), folder)
    return page


def of_cup(code: str, folder: Path, base: str = "") -> Image.Image:
    label = cup_label(code, SYSTEM, "146.4", ("Hatch cover 14", "ply 1"), Words())
    return camera.on_the_bench(printed(label, folder, base))


def of_can(code: str, folder: Path) -> Image.Image:
    label = container_label(Container(code, 1, "HRD-S", "HL-2291", "2026-03-01"), "", Words())
    return camera.on_the_bench(printed(label, folder))


def planned_code(phone: Phone, words: str = "ply 1") -> str:
    return (
        phone.page.locator(".next-cups .card", has_text=words).first.locator(".code").inner_text()
    )


def scan(phone: Phone) -> None:
    phone.page.get_by_role("link", name="Scan a label").tap()


def a_waits(phone: Phone) -> str:
    """Weigh a cup until it waits for its hardener."""
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.read("121.5")
    return code


@pytest.mark.parametrize("base", ["", "https://companion.local:8035"], ids=["bare", "address"])
def test_a_label_of_our_paper_opens_its_cup_with_the_network_gone(
    phone: Phone, own_server: RunningServer, feed: Path, tmp_path: Path, base: str
) -> None:
    code = planned_code(phone)
    own_server.kill()
    phone.open()
    camera.show(feed, of_cup(code, tmp_path, base))
    scan(phone)
    # The cup's next step: who weighs it, then its empty mass.
    phone.say_who()
    expect(phone.page.locator("a.code")).to_have_text(code)
    phone.does_say("empty cup")
    # The camera is off: its picture is gone from the page.
    expect(phone.page.locator("video")).to_have_count(0)


def test_the_can_in_the_hand_opens_the_hardener(phone: Phone, feed: Path, tmp_path: Path) -> None:
    code = a_waits(phone)
    camera.show(feed, of_can(HARDENER, tmp_path))
    phone.page.get_by_role("link", name="Scan the can in your hand").tap()
    expect(phone.page.locator(".weigh .keypad")).to_be_visible()
    assert [row["kind"] for row in phone.rows()][-2:] == ["lot_used", "pour_opened"]
    assert [phone.rows()[-2][name] for name in ("cup", "component", "lot", "container")] == [
        code,
        "b",
        "HL-2291",
        HARDENER,
    ]


def test_a_can_of_another_system_stops(phone: Phone, feed: Path, tmp_path: Path) -> None:
    a_waits(phone)
    before = phone.rows()
    camera.show(feed, of_can(FAST_HARDENER, tmp_path))
    phone.page.get_by_role("link", name="Scan the can in your hand").tap()
    stop = phone.page.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("HRD-F (FAST)")
    phone.answer("Put it back")
    phone.does_say("Nothing was opened.")
    assert phone.rows() == before


def test_the_label_of_a_cup_opens_no_hardener(phone: Phone, feed: Path, tmp_path: Path) -> None:
    code = a_waits(phone)
    before = phone.rows()
    camera.show(feed, of_cup(code, tmp_path))
    phone.page.get_by_role("link", name="Scan the can in your hand").tap()
    phone.does_say(f"{code} is the label of a cup, not of a can.")
    assert phone.rows() == before


def test_a_foreign_pattern_is_refused_in_words_and_never_opened(
    phone: Phone, feed: Path, tmp_path: Path
) -> None:
    import qrcode

    foreign = "HTTPS://ELSEWHERE.EXAMPLE/C/7K2QMS?PAY=1"
    made = qrcode.QRCode(border=4, box_size=8)
    made.add_data(foreign)
    camera.show(feed, camera.on_the_bench(made.make_image().get_image()))
    asked: list[str] = []
    phone.page.on("request", lambda request: asked.append(request.url))
    scan(phone)
    phone.does_say(f"Not a label of ours: “{foreign}”. It was not opened.")
    assert phone.page.url.endswith("#/scan")
    assert phone.page.locator(f"a[href*='{foreign}' i]").count() == 0
    assert [url for url in asked if "elsewhere" in url.lower()] == []


def test_two_labels_in_view_are_not_guessed_between(
    phone: Phone, feed: Path, tmp_path: Path
) -> None:
    picture = camera.nothing()
    for code, left in ((RESIN, 40), (HARDENER, 660)):
        label = of_can(code, tmp_path).crop((240, 160, 1040, 560)).resize((580, 290))
        picture.paste(label, (left, 200))
    camera.show(feed, picture)
    scan(phone)
    phone.does_say("Two labels are in view. Show one alone.")


def test_a_blank_label_is_bound_to_a_planned_cup(
    phone: Phone, own_server: RunningServer, feed: Path, tmp_path: Path
) -> None:
    planned = planned_code(phone)
    label = printed(BlankLabel(UNUSED), tmp_path)
    camera.show(feed, camera.on_the_bench(label))
    scan(phone)
    phone.does_say("Go on only if the label is new and blank.")
    phone.page.locator(".found .card", has_text=planned).tap()
    phone.say_crew()
    phone.page.locator(".found .card", has_text=planned).tap()
    phone.answer("Yes, it is on the cup")
    expect(phone.page.locator("a.code")).to_have_text(UNUSED)
    phone.read("8.4")
    started, labelled, reading = phone.rows()
    assert [row["cup"] for row in (started, labelled, reading)] == [planned, UNUSED, UNUSED]
    assert (labelled["kind"], labelled["target"]) == ("labelled", planned)
    # Either label leads to it, and it is planned no longer.
    phone.open()
    expect(phone.page.locator(".next-cups .card", has_text=planned)).to_have_count(0)
    expect(phone.page.locator(".next-cups .card", has_text=UNUSED)).to_have_count(1)
    phone.send_now()
    told = own_server.command("export", "--cup", planned).stdout
    assert told.count(UNUSED) >= 2
    # Another cup cannot take it.
    other = phone.open().take("ply 1")
    phone.read("8.4")
    phone.open(f"#/scan/label/{other}")
    phone.does_say(f"Label {UNUSED} is on another cup already.")


def test_a_cup_is_started_under_a_blank_label(phone: Phone, feed: Path, tmp_path: Path) -> None:
    camera.show(feed, camera.on_the_bench(printed(BlankLabel(UNUSED), tmp_path)))
    scan(phone)
    phone.page.get_by_role("link", name="Start a cup under this label").tap()
    phone.page.locator(".start .card", has_text="SLOW").tap()
    phone.type("90")
    phone.page.locator(".read").tap()
    phone.say_who()
    phone.read("8.4")
    assert {row["cup"] for row in phone.rows()} == {UNUSED}


def test_without_a_camera_the_code_is_typed(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    code = planned_code(phone)
    scan(phone)
    phone.does_say("Type the code.")
    phone.page.get_by_role("link", name="Type the code").tap()
    for character in code:
        phone.page.locator(".code-keys .key").get_by_text(character, exact=True).tap()
    phone.say_who()
    expect(phone.page.locator("a.code")).to_have_text(code)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("7K2QM0", "No code holds a zero or the letter O."),
        ("7K2QM+", "Only digits and letters stand in a code."),
        ("7K2QMT", "The check of “7K2QMT” does not fit."),
    ],
)
def test_a_typed_code_is_checked(server: RunningServer, make_phone: MakePhone, typed, says) -> None:
    phone = make_phone(server).open("#/type")
    phone.page.keyboard.type(typed)
    phone.does_say(says)


def test_a_look_alike_is_proposed_and_never_taken_by_itself(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install().open("#/type")
    # The can is HRD2SM; Z for 2 is a slip of the eye.
    phone.page.keyboard.type("hrdzsm")
    phone.does_say("Look at the label before you choose.")
    phone.page.get_by_role("button", name=f"Is it {HARDENER}?").tap()
    phone.does_say("HRD-S (SLOW)")


def test_the_light_is_offered_where_the_camera_has_one(phone: Phone) -> None:
    # The browser's test camera has no light: its capability and its answer are put in its place.
    phone.page.evaluate(
        """() => {
          MediaStreamTrack.prototype.getCapabilities = () => ({ torch: true });
          MediaStreamTrack.prototype.applyConstraints = async (wanted) => {
            document.documentElement.dataset.light = String(wanted.advanced[0].torch);
          };
        }"""
    )
    scan(phone)
    phone.page.get_by_role("button", name="Light on").tap()
    expect(phone.page.locator("html[data-light=true]")).to_be_attached()
    phone.page.get_by_role("button", name="Light off").tap()
    expect(phone.page.locator("html[data-light=false]")).to_be_attached()


def test_a_phone_in_the_pocket_gives_its_camera_free_and_looks_on_later(phone: Phone) -> None:
    scan(phone)
    running = """() => {
      const stream = document.querySelector('video').srcObject;
      return Boolean(stream?.getVideoTracks().some((track) => track.readyState === 'live'));
    }"""
    expect(phone.page.locator("video")).to_be_visible()
    phone.page.wait_for_timeout(1000)
    assert phone.page.evaluate(running)
    hide = """(hidden) => {
      Object.defineProperty(document, 'hidden', { configurable: true, get: () => hidden });
      document.dispatchEvent(new Event('visibilitychange'));
    }"""
    phone.page.evaluate(hide, True)
    assert not phone.page.evaluate(running)
    phone.page.evaluate(hide, False)
    phone.page.wait_for_timeout(1000)
    assert phone.page.evaluate(running)
    # Gone to another screen, the camera is free as well.
    phone.page.evaluate(
        "() => { window.kept = document.querySelector('video').srcObject.getTracks()[0]; }"
    )
    phone.page.get_by_role("link", name="Type the code").tap()
    expect(phone.page.locator(".code-entry")).to_be_visible()
    assert phone.page.evaluate("() => window.kept.readyState") == "ended"


def test_the_phones_own_camera_app_comes_to_the_cup_where_the_app_is_installed(
    phone: Phone, own_server: RunningServer
) -> None:
    code = planned_code(phone)
    own_server.kill()
    phone.page.goto(f"{phone.url}/C/{code}")
    phone.say_who()
    expect(phone.page.locator("a.code")).to_have_text(code)
