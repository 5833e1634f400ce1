"""A phone on the shop's network, from trust to the last row, and what moving and time do to it."""

import csv
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import expect

from companion.lan import authority, leaf
from companion.records import log, pairing, phones
from companion.trade.times import format_utc
from tests.bench.conftest import MakePhone, make_phone, own_shop
from tests.bench.phone import Phone
from tests.bench.shop import REFUSED, pair, pairing_code, phone_options, records_of
from tests.lan.network import LanServer, free_pair

__all__ = ["make_phone", "own_shop"]

#: What a browser says of a certificate that has ended, in this order of its versions.
ENDED = "ERR_CERT_DATE_INVALID"
#: Long enough to pair and to receive the bundle, short enough to wait for its end.
SHORT_LIFE = timedelta(seconds=40)


def installed(make: MakePhone, shop: LanServer, folder: Path) -> Phone:
    """The app as opened from the home screen of a phone that trusts the shop."""
    phone = make(shop, **phone_options(shop, folder, installed=True))
    phone.expect_complaint(REFUSED)
    return phone


def weigh_one(phone: Phone) -> None:
    """A whole cup that no plan knew, from its total to In."""
    phone.open()
    phone.page.get_by_role("link", name="Start a cup without a plan").tap()
    phone.page.locator(".start .card", has_text="RES-L + SLOW").tap()
    expect(phone.page.locator(".keypad")).to_be_visible()
    phone.read("130")
    expect(phone.page.locator(".screen.crew, .screen.weigh")).to_be_visible()
    if phone.page.locator(".screen.crew").count():
        phone.say_who()
    for figure in ("8.4", "108.4"):
        phone.read(figure)
    phone.open_hardener("HRD2SM")
    phone.read("138.4")
    phone.does_say("and this scale proves it")


def test_it_trusts_installs_pairs_weighs_alone_and_comes_home(
    own_shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    phone = installed(make_phone, own_shop, tmp_path / "home").open()
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    assert phone.context is not None
    session = phone.context.new_cdp_session(phone.page)
    assert session.send("Page.getInstallabilityErrors") == {"installabilityErrors": []}
    assert session.send("Page.getAppManifest")["errors"] == []
    pair(phone, pairing_code(own_shop))
    own_shop.kill()
    phone.pull_the_battery()
    phone.switch_on()
    weigh_one(phone)
    written = phone.rows()
    own_shop.start()
    phone.send_now()
    with records_of(own_shop) as store:
        held = log.all_rows(store, log_id=written[0]["log_id"])
        (known,) = [one for one in phones.all_logs(store, now()) if one.paired]
    assert [row.event_id for row in held] == [row["event_id"] for row in written]
    assert (known.unsent, known.missing) == (0, ())


def now() -> str:
    return format_utc(datetime.now(UTC))


def test_a_certificate_that_really_ended_stops_nothing_but_the_sending(
    own_shop: LanServer, make_phone: MakePhone, tmp_path: Path
) -> None:
    # A key that is kept elsewhere renews nothing; the leaf served ends while the phone works.
    own_shop.stop()
    signer = authority.established(own_shop.folder, own_shop.name, datetime.now(UTC))
    begins = datetime.now(UTC) + SHORT_LIFE - leaf.LONGEST_LIFE + authority.BACKDATED
    leaf.write_pair(own_shop.folder, leaf.issue(signer, own_shop.name, begins))
    key = own_shop.folder / authority.KEY
    key.rename(tmp_path / "kept elsewhere")
    own_shop.start()
    phone = installed(make_phone, own_shop, tmp_path / "home").open()
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    pair(phone, pairing_code(own_shop))
    until = datetime.fromisoformat(phone.fact("bundle")["certificate_until"])
    phone.expect_complaint(ENDED, "An unknown error occurred when fetching the script")
    phone.page.wait_for_timeout(max(0.0, (until - datetime.now(UTC)).total_seconds() + 1) * 1000)
    # A connection from before may live on; a phone that comes back makes a new one.
    phone.switch_off()
    phone.switch_on()
    weigh_one(phone)
    phone.open()
    phone.does_say("The certificate of the shop's server ended on ")
    written = phone.rows()
    with records_of(own_shop) as store:
        assert log.all_rows(store, log_id=written[0]["log_id"]) == []
    # The key comes back: the server renews by itself, and the phone trusts without being asked.
    own_shop.stop()
    (tmp_path / "kept elsewhere").rename(key)
    own_shop.start()
    phone.send_now()
    with records_of(own_shop) as store:
        assert len(log.all_rows(store, log_id=written[0]["log_id"])) == len(written)


@pytest.mark.parametrize("what", ["port", "name and machine"])
def test_moving_loses_nothing_and_doubles_nothing(
    own_shop: LanServer, make_phone: MakePhone, tmp_path: Path, what: str
) -> None:
    phone = installed(make_phone, own_shop, tmp_path / "home").open()
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    pair(phone, pairing_code(own_shop))
    weigh_one(phone)
    phone.send_now()
    sent = len(phone.rows())
    own_shop.stop()
    while len(phone.rows()) < sent + 20:
        weigh_one(phone)
    before = phone.rows()
    moved = moved_shop(own_shop, tmp_path, what)
    try:
        # The old app still opens, with its rows, and hands them out.
        phone.open()
        expect(phone.page.locator(".next-cups")).to_be_visible()
        assert phone.rows() == before
        shared = share(phone, tmp_path)
        bring(moved, shared)
        bring(moved, shared)
        newcomer = installed(make_phone, moved, tmp_path / "new-home").open()
        newcomer.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
        code = pairing_code(moved, "Bench 1", before[0]["log_id"])
        newcomer.open("#/pair")
        newcomer.page.get_by_label("Pairing code").fill(code)
        newcomer.page.get_by_role("button", name="Pair", exact=True).tap()
        newcomer.does_say(f"Rows after {len(before)} of the old log may be missing.")
        newcomer.answer("I have read this")
        newcomer.comes_to_know("lost_log", None)
        newcomer.open()
        expect(newcomer.page.locator(".card").first).to_be_visible()
        weigh_one(newcomer)
        newcomer.send_now()
        with records_of(moved) as store:
            held = log.all_rows(store)
            lines = {one.log_id: one for one in phones.all_logs(store, now())}
            revoked = {one.log_id for one in pairing.every(store) if one.revoked_at}
        ids = [row.event_id for row in held]
        assert len(ids) == len(set(ids))
        assert [r.event_id for r in held if r.log_id == before[0]["log_id"]] == [
            row["event_id"] for row in before
        ]
        assert lines[before[0]["log_id"]].missing == () and revoked == {before[0]["log_id"]}
        assert newcomer.rows()[0]["log_id"] in lines
    finally:
        moved.kill()


def moved_shop(old: LanServer, tmp_path: Path, what: str) -> LanServer:
    """The same records at another address, on this machine or brought to another one."""
    if what == "port":
        change = ("--change-address",)
        return LanServer(old.data_dir, name=old.name, port=free_pair(), options=change).start()
    carried = tmp_path / "carried"
    run("backup", "--to", carried, "--demo", "--data", old.data_dir)
    (file,) = carried.glob("companion-*.sqlite3")
    folder = tmp_path / "other machine"
    run("restore", file, "--demo", "--data", folder)
    return LanServer(folder, name="elsewhere.test").start()


def run(*arguments: str | Path) -> None:
    """A command of the program that must do what it is asked."""
    done = subprocess.run(
        [sys.executable, "-m", "companion", *arguments],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr


def share(phone: Phone, folder: Path) -> Path:
    """The log as the phone hands it out."""
    phone.open("#/phone")
    with phone.page.expect_download() as download:
        phone.page.get_by_role("button", name="Share the log").tap()
    path = folder / "shared.csv"
    download.value.save_as(path)
    with path.open(encoding="utf-8", newline="") as file:
        assert len(list(csv.DictReader(file))) == len(phone.rows())
    return path


def bring(shop: LanServer, file: Path) -> None:
    """Import a file into a shop."""
    run("import", file, "--demo", "--data", shop.data_dir)
