"""The app on the phone: installed whole or not at all, updated when asked, rescued when broken."""

import csv
import json
from pathlib import Path

import pytest
from playwright.sync_api import expect

from companion.trade.rows import COLUMNS
from companion.web.assembly import file_list
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.faulty_line import FaultyLine
from tests.running import RunningServer

CACHES = "caches.keys().then((names) => names.filter((name) => name.startsWith('bench-')))"
CONTROLLER = "Boolean(navigator.serviceWorker.controller)"


def next_version(body: bytes) -> bytes:
    """The worker of the next release."""
    return body.replace(b'const VERSION = "', b'const VERSION = "next-')


def publish_next(phone: Phone, line: FaultyLine) -> None:
    """The next release, fetched by the phone and waiting."""
    line.rewrite["/worker.js"] = next_version
    phone.page.evaluate(
        """() => navigator.serviceWorker.getRegistration().then((registration) => new Promise(
          (resolve) => {
            registration.addEventListener('updatefound', () => {
              const worker = registration.installing;
              worker.addEventListener('statechange', () => {
                if (worker.state === 'installed') resolve();
              });
            });
            registration.update();
          }))"""
    )


@pytest.mark.parametrize("place", [0, 1, 4, len(file_list()) // 2, len(file_list()) - 1])
def test_the_app_installs_whole_or_not_at_all(
    own_server: RunningServer, make_phone: MakePhone, place: int
) -> None:
    refused = file_list()[place]
    with FaultyLine(own_server.port).running() as line:
        phone = make_phone(own_server)
        phone.url = line.url
        # The page itself has to come once for the worker to be registered at all.
        line.rewrite["/worker.js"] = lambda body: body.replace(
            f'"{refused}"'.encode(), b'"/static/refused"'
        )
        line.refused_path = "/static/refused"
        phone.open()
        while line.faults_done == 0:
            phone.page.wait_for_timeout(50)
        # The worker that met the refusal is gone, and so is all it had fetched.
        phone.page.wait_for_function(
            """() => Promise.all([navigator.serviceWorker.getRegistration(), caches.keys()]).then(
              ([registration, names]) => names.length === 0 &&
                !registration?.installing && !registration?.waiting && !registration?.active)"""
        )
        # With the file there, the next visit installs everything.
        line.rewrite.clear()
        line.refused_path = ""
        phone.install()
        names = phone.page.evaluate(CACHES)
        assert len(names) == 1
        kept = phone.page.evaluate(
            "(name) => caches.open(name).then((cache) => cache.keys())"
            ".then((keys) => keys.map((key) => new URL(key.url).pathname))",
            names[0],
        )
        assert sorted(kept) == sorted(file_list())
        phone.expect_complaint("Unexpected identifier", "Failed to load resource")


def test_an_update_waits_until_no_cup_is_on_the_scale_and_asks(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    with FaultyLine(own_server.port).running() as line:
        phone = make_phone(own_server)
        phone.url = line.url
        phone.install()
        phone.page.reload()
        phone.take("ply 1")
        phone.say_who()
        phone.read("8.4")
        phone.type("12")
        publish_next(phone, line)
        # Nothing moves while the cup stands on the scale, not even half a figure.
        phone.page.wait_for_timeout(500)
        expect(phone.page.locator("#banner")).to_be_empty()
        expect(phone.page.locator(".entry-figure")).to_have_text("12")
        assert len(phone.page.evaluate(CACHES)) == 2
        phone.page.evaluate("location.hash = '#/'")
        expect(phone.page.locator("#banner")).to_contain_text("A new version is here.")
        with phone.page.expect_navigation():
            phone.page.get_by_role("button", name="Reload").tap()
        expect(phone.page.locator(".next-cups")).to_be_visible()
        names = phone.page.evaluate(CACHES)
        assert len(names) == 1 and "next-" in names[0]
        assert len(phone.rows()) == 2


def test_an_update_leaves_a_cup_with_hardener_in_it_alone(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    with FaultyLine(own_server.port).running() as line:
        phone = make_phone(own_server)
        phone.url = line.url
        phone.install()
        phone.page.reload()
        phone.take("ply 1")
        phone.say_who()
        phone.read("8.4")
        phone.read("121.5")
        phone.open_hardener("HRD2SM")
        phone.type("12")
        stop, opened = phone.figure(), phone.rows()
        publish_next(phone, line)
        expect(phone.page.locator("#banner")).to_be_empty()
        assert (phone.figure(), phone.rows()) == (stop, opened)
        expect(phone.page.locator(".entry-figure")).to_have_text("12")
        # The rest of the figure goes on from there, and the clocks run from when they ran.
        phone.page.keyboard.press("Backspace")
        phone.page.keyboard.press("Backspace")
        phone.read(stop)
        phone.page.get_by_role("button", name="Start mixing").tap()
        elapsed = phone.page.locator(".elapsed")
        expect(elapsed).to_have_text("0:02")
        phone.page.evaluate("navigator.serviceWorker.getRegistration().then((r) => r.update())")
        expect(elapsed).to_have_text("0:03")
        expect(phone.page.locator("#banner")).to_be_empty()
        phone.page.evaluate("location.hash = '#/'")
        expect(phone.page.locator("#banner")).to_contain_text("A new version is here.")


def test_the_app_starts_in_a_new_window_and_at_any_address_without_a_server(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    for address in ("/bench/", "/bench/?x=1", "/bench/#/phone", "/rescue"):
        assert phone.context is not None
        page = phone.context.new_page()
        phone.watch(page)
        page.goto(f"{phone.url}{address}")
        expect(page.locator("h1").first).to_be_visible()


def test_a_phone_can_install_it(own_server: RunningServer, make_phone: MakePhone) -> None:
    phone = make_phone(own_server).install()
    assert phone.context is not None
    session = phone.context.new_cdp_session(phone.page)
    assert session.send("Page.getInstallabilityErrors") == {"installabilityErrors": []}
    assert session.send("Page.getAppManifest")["errors"] == []


def rescued(phone: Phone, tmp_path: Path) -> list[dict[str, str]]:
    """Rows of the file the rescue page hands out."""
    with phone.page.expect_download() as download:
        phone.page.locator("#file").tap()
    path = tmp_path / "rescued.csv"
    download.value.save_as(path)
    return read_rows(path)


def read_rows(path: Path) -> list[dict[str, str]]:
    """Rows of a log file."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_a_broken_app_still_lets_the_log_be_rescued_without_a_server(
    own_server: RunningServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    with FaultyLine(own_server.port).running() as line:
        phone = make_phone(own_server)
        phone.url = line.url
        phone.install()
        phone.page.reload()
        phone.take("ply 1")
        phone.say_who()
        phone.read("8.4")
        phone.read("121.5")
        phone.page.locator("a.code").tap()
        phone.page.get_by_role("button", name="Add a note").tap()
        phone.answer("Keep it", reason='stick "in", 4 g\nsecond line')
        phone.does_say("second line")
        rows = phone.rows()
        # The next version is broken in its very first line.
        line.rewrite["/worker.js"] = next_version
        line.rewrite["/static/bench/main.js"] = lambda _: b"import { nothing from 'nowhere';"
        phone.page.goto(f"{phone.url}/bench/")
        phone.page.evaluate("navigator.serviceWorker.getRegistration().then((r) => r.update())")
        phone.page.get_by_role("button", name="Reload").tap()
        link = phone.page.locator("#rescue-link a")
        expect(link).to_be_visible()
        own_server.kill()
        link.tap()
        expect(phone.page.locator("#outcome")).to_contain_text(f"{len(rows)} rows")
        assert rescued(phone, tmp_path) == [
            {name: str(row[name]) for name in COLUMNS} for row in rows
        ]
        phone.expect_complaint("Unexpected identifier", "Failed to load resource")


def test_the_rescue_page_of_a_phone_without_a_log_says_so(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server)
    phone.page.goto(f"{phone.url}/rescue")
    expect(phone.page.locator("#outcome")).to_contain_text("no log on this phone")
    assert phone.page.evaluate("indexedDB.databases().then((all) => all.length)") == 0


def test_the_rescued_log_can_be_imported_by_the_office(
    own_server: RunningServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.page.goto(f"{phone.url}/rescue")
    rescued(phone, tmp_path)
    answer = own_server.command("import", str(tmp_path / "rescued.csv"), "--json")
    assert json.loads(answer.stdout)["stored"] == 2
    # The phone comes back later and sends the same rows: nothing is doubled.
    own_server.start()
    phone.send_now()
    log_id = phone.fact("log_id")
    exported = own_server.command("export", "--log", log_id).stdout
    assert len(exported.splitlines()) == 3


def test_the_share_button_hands_out_the_same_log(
    own_server: RunningServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    phone = make_phone(own_server).install()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.open("#/phone")
    with phone.page.expect_download() as download:
        phone.page.get_by_role("button", name="Share the log").tap()
    path = tmp_path / "shared.csv"
    download.value.save_as(path)
    assert read_rows(path) == [{name: str(row[name]) for name in COLUMNS} for row in phone.rows()]
