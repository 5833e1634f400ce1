"""Pairing: a code of the office for a token of this phone; the log is never touched by it."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Request, expect
from sqlalchemy import select, update

from companion.records import pairing
from companion.records.schema import paired_phones
from tests.bench import camera
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.bench.shop import REFUSED, pair, pairing_code, phone_options, picture_of, records_of
from tests.lan.network import LanServer

NOW = "2026-03-10T12:00:00.000Z"


@pytest.fixture
def feed(tmp_path: Path) -> Path:
    """The file that stands in the camera's place."""
    path = tmp_path / "camera.y4m"
    camera.show(path, camera.nothing())
    return path


@pytest.fixture
def phone(own_shop: LanServer, make_phone: MakePhone, feed: Path, tmp_path: Path) -> Phone:
    """An installed app that was never paired, with a camera."""
    options = phone_options(own_shop, tmp_path / "home", installed=True, flags=camera.flags(feed))
    made = make_phone(own_shop, **options)
    made.expect_complaint(REFUSED)
    return made.open()


def weigh_a_little(phone: Phone) -> list[dict[str, Any]]:
    """Two rows: the start of a cup and its empty mass."""
    phone.open()
    phone.take("ply 1")
    expect(phone.page.locator(".screen.crew, .screen.weigh")).to_be_visible()
    # Asked once in eight hours.
    if phone.page.locator(".screen.crew").count():
        phone.say_who()
    phone.read("8.4")
    return phone.rows()


def test_it_is_paired_by_its_own_scanner(phone: Phone, own_shop: LanServer, feed: Path) -> None:
    phone.does_say("This phone is not paired with the shop.")
    code = pairing_code(own_shop, "Bench 1")
    asked: list[str] = []
    phone.page.on("request", lambda request: asked.append(request.url))
    phone.page.on("framenavigated", lambda frame: asked.append(frame.url))
    camera.show(feed, picture_of(f"PAIR:{code}"))
    phone.page.get_by_role("link", name="Pair with the shop").tap()
    phone.page.get_by_role("link", name="Scan the pairing code").tap()
    phone.does_say("Paired as Bench 1")
    phone.does_say("The cups of the shop are here.")
    assert phone.page.locator("video").count() == 0
    # No address ever carried the code, and the camera's screen is not gone back to.
    assert any(url.endswith("/api/v1/pair") for url in asked)
    assert [url for url in asked if code in url] == []
    phone.page.get_by_role("link", name="Next cups").tap()
    expect(phone.page.locator(".card").first).to_be_visible()
    expect(phone.page.locator(".alert")).to_have_count(0)
    phone.open("#/phone")
    phone.does_say("Bench 1")
    # What is weighed now arrives.
    rows = weigh_a_little(phone)
    phone.send_now()
    with records_of(own_shop) as store:
        (known,) = pairing.every(store)
    assert (known.name, known.log_id) == ("Bench 1", rows[0]["log_id"])


def test_a_typed_code_is_forgiven_and_an_impossible_one_is_not_sent(
    phone: Phone, own_shop: LanServer
) -> None:
    code = pairing_code(own_shop)
    asked: list[str] = []
    phone.page.on("request", lambda request: asked.append(request.url))
    phone.open("#/pair")
    field = phone.page.get_by_label("Pairing code")
    field.fill(code[:-1])
    field.press("Enter")
    phone.does_say("A pairing code has 26 characters; these are 25.")
    field.fill(f"{code[:-1]}8")
    field.press("Enter")
    phone.does_say("“8” is in no pairing code: it has letters and the digits 2 to 7.")
    assert not any(url.endswith("/pair") for url in asked)
    field.fill(f"{code[:9].lower()} - {code[9:].lower()} ")
    field.press("Enter")
    phone.does_say("Paired as Bench 1")


def test_a_pairing_code_under_the_ordinary_scan_is_asked_about_first(
    phone: Phone, own_shop: LanServer, feed: Path
) -> None:
    asked: list[str] = []
    phone.page.on("request", lambda request: asked.append(request.url))
    camera.show(feed, picture_of(f"PAIR:{pairing_code(own_shop)}"))
    phone.open("#/scan")
    phone.does_say("Pair this phone with it?")
    assert not any(url.endswith("/api/v1/pair") for url in asked)
    phone.page.get_by_role("button", name="Pair", exact=True).tap()
    phone.does_say("Paired as Bench 1")


def test_the_pairing_scanner_takes_no_label(phone: Phone, feed: Path) -> None:
    camera.show(feed, picture_of("HRD2SM"))
    phone.open("#/scan/pair")
    phone.does_say("HRD2SM is a label. Scan the pairing code on the screen of the office.")


def test_no_address_pairs(phone: Phone, own_shop: LanServer) -> None:
    code = pairing_code(own_shop)
    asked: list[str] = []
    phone.page.on("request", lambda request: asked.append(request.url))
    for address in (f"#/pair/{code}", f"?code={code}#/pair", f"#/scan/pair/PAIR:{code}"):
        phone.open(address)
        expect(phone.page.locator("#screen h1")).to_be_visible()
    phone.open("#/pair")
    expect(phone.page.get_by_label("Pairing code")).to_have_value("")
    assert not any(url.endswith("/api/v1/pair") for url in asked)
    assert phone.fact("token") is None


def test_a_used_code_is_refused_and_guessing_is_slowed(phone: Phone, own_shop: LanServer) -> None:
    code = pairing_code(own_shop)
    with records_of(own_shop) as store:
        other = "00000000-0000-4000-8000-000000000001"
        assert pairing.pair(store, code, other, NOW) is not None
    phone.open("#/pair")
    phone.page.get_by_label("Pairing code").fill(code)
    send = phone.page.get_by_role("button", name="Pair", exact=True)
    send.tap()
    phone.does_say("it is used, too old or wrong. Make a new one in the office.")
    for _ in range(6):
        send.tap()
        expect(send).to_be_enabled()
    expect(phone.page.locator(".problem")).to_contain_text("Too many tries. Wait ")
    assert phone.fact("token") is None


def test_the_server_of_another_shop_changes_nothing(
    phone: Phone, own_shop: LanServer, tmp_path: Path
) -> None:
    pair(phone, pairing_code(own_shop))
    before = (phone.fact("token"), phone.fact("server"), phone.fact("phone_name"))
    own_shop.kill()
    other = LanServer(tmp_path / "other", name=own_shop.name, port=own_shop.port)
    # The same name and trust, other records.
    (own_shop.folder).rename(_made(other.data_dir) / "lan")
    other.start()
    try:
        phone.open("#/pair")
        phone.page.get_by_label("Pairing code").fill(pairing_code(other, "Elsewhere"))
        phone.page.get_by_role("button", name="Pair", exact=True).tap()
        phone.does_say("This is the server of another shop.")
    finally:
        other.kill()
    assert (phone.fact("token"), phone.fact("server"), phone.fact("phone_name")) == before


def _made(folder: Path) -> Path:
    folder.mkdir(parents=True)
    return folder


def test_a_shop_that_is_not_reached_is_named(phone: Phone, own_shop: LanServer) -> None:
    code = pairing_code(own_shop)
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    own_shop.kill()
    phone.open("#/pair")
    phone.page.get_by_label("Pairing code").fill(code)
    phone.page.get_by_role("button", name="Pair", exact=True).tap()
    phone.does_say("The shop was not reached.")


def test_a_lost_token_and_lost_cookies_leave_the_rows(phone: Phone, own_shop: LanServer) -> None:
    pair(phone, pairing_code(own_shop))
    weigh_a_little(phone)
    phone.send_now()
    forget_token(phone)
    assert phone.context is not None
    phone.context.clear_cookies()
    rows = weigh_a_little(phone)
    phone.open()
    phone.does_say("This phone is not paired with the shop. Rows stay on this phone until it is.")
    assert phone.rows() == rows
    pair(phone, pairing_code(own_shop, "Bench 1", rows[0]["log_id"]))
    phone.send_now()
    assert phone.rows() == rows
    assert phone.page.locator("dialog[open]").count() == 0
    assert len(exported(own_shop, rows[0]["log_id"]).splitlines()) == 1 + len(rows)


def forget_token(phone: Phone) -> None:
    """As when a browser loses what it holds beside the rows."""
    phone.page.evaluate(
        """() => new Promise((resolve) => {
          const open = indexedDB.open('companion-bench');
          open.onsuccess = () => {
            const change = open.result.transaction('facts', 'readwrite');
            change.objectStore('facts').delete('token');
            change.oncomplete = () => { open.result.close(); resolve(); };
          };
        })"""
    )


def exported(shop: LanServer, log_id: str) -> str:
    """The rows of a log as the office exports them."""
    done = subprocess.run(
        [sys.executable, *"-m companion export --log".split(), log_id, "--data", shop.data_dir],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    return done.stdout


def test_a_revoked_phone_keeps_its_rows_and_weighs_on(phone: Phone, own_shop: LanServer) -> None:
    pair(phone, pairing_code(own_shop))
    with records_of(own_shop) as store:
        pairing.revoke(store, phone.fact("log_id"), NOW)
    rows = weigh_a_little(phone)
    phone.open()
    phone.does_say("The office has cut this phone off. Rows stay on this phone")
    phone.page.locator(".next-cups .card").first.tap()
    phone.read("121.5")
    assert phone.rows()[: len(rows)] == rows
    phone.open("#/phone")
    phone.does_say("the office has cut this phone off")
    expect(phone.page.get_by_role("button", name="Share the log")).to_be_visible()
    pair(phone, pairing_code(own_shop, "Bench 1", phone.fact("log_id")))
    phone.send_now()


def test_the_token_of_another_log_is_named(phone: Phone, own_shop: LanServer) -> None:
    pair(phone, pairing_code(own_shop))
    # As when a phone's storage was copied to another phone and begun anew there.
    phone.page.evaluate(
        """() => new Promise((resolve) => {
          const open = indexedDB.open('companion-bench');
          open.onsuccess = () => {
            const change = open.result.transaction('facts', 'readwrite');
            change.objectStore('facts').put({ name: 'log_id', value: crypto.randomUUID() });
            change.oncomplete = () => { open.result.close(); resolve(); };
          };
        })"""
    )
    weigh_a_little(phone)
    phone.open()
    phone.does_say("The pairing of this phone belongs to another log.")


def test_a_wiped_store_is_said_loudly_until_somebody_has_read_it(
    phone: Phone, own_shop: LanServer
) -> None:
    pair(phone, pairing_code(own_shop))
    weigh_a_little(phone)
    phone.send_now()
    lost = phone.fact("log_id")
    assert phone.context is not None
    # The browser may close the store in the middle of a turn.
    phone.expect_complaint("The connection was closed.", "The transaction was aborted")
    session = phone.context.new_cdp_session(phone.page)
    session.send("Storage.clearDataForOrigin", {"origin": phone.url, "storageTypes": "all"})
    phone.open()
    assert phone.fact("log_id") != lost and phone.rows() == []
    phone.does_say("This phone is not paired with the shop.")
    code = pairing_code(own_shop, "Bench 1", lost)
    phone.open("#/pair")
    phone.page.get_by_label("Pairing code").fill(code)
    phone.page.get_by_role("button", name="Pair", exact=True).tap()
    stop = phone.page.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("The old log is not here")
    expect(stop).to_contain_text("Rows after 2 of the old log may be missing.")
    expect(stop).to_contain_text("import the file in the office")
    # Nobody has tapped it: it is there again.
    phone.page.reload()
    expect(stop).to_contain_text("Rows after 2 of the old log may be missing.")
    phone.answer("I have read this")
    phone.comes_to_know("lost_log", None)
    phone.open()
    expect(phone.page.locator(".card").first).to_be_visible()
    expect(stop).to_have_count(0)


def test_a_new_token_is_kept_with_the_acknowledgement(phone: Phone, own_shop: LanServer) -> None:
    pair(phone, pairing_code(own_shop))
    first = phone.fact("token")
    with records_of(own_shop) as store, store.write() as connection:
        connection.execute(update(paired_phones).values(token_made_at="2026-01-01T00:00:00.000Z"))
    weigh_a_little(phone)
    phone.send_now()
    second = phone.fact("token")
    assert second != first and len(second) == 43
    # The old one was good until the new one was used.
    phone.open("#/phone")
    phone.page.get_by_role("button", name="Send now").tap()
    phone.does_say("all well")
    with records_of(own_shop) as store, store.read() as connection:
        (held,) = connection.execute(select(paired_phones)).mappings()
    assert held["next_token_sha256"] == ""
    assert own_shop.get("/api/v1/bundle", Authorization=f"Bearer {first}").status == 401
    assert own_shop.get("/api/v1/bundle", Authorization=f"Bearer {second}").status == 200


def test_every_request_says_who_asks_and_what_is_unsent(phone: Phone, own_shop: LanServer) -> None:
    pair(phone, pairing_code(own_shop))
    token = phone.fact("token")
    asked: list[Request] = []
    phone.page.on("request", lambda request: asked.append(request))
    weigh_a_little(phone)
    phone.send_now()
    ours = [one for one in asked if "/api/v1/" in one.url]
    assert {one.headers.get("authorization") for one in ours} == {f"Bearer {token}"}
    (rows,) = [one for one in ours if one.url.endswith("/rows")]
    assert rows.headers["unsent"] == rows.headers["row-count"] == "2"
    assert not any("authorization" in one.headers for one in asked if one not in ours)


def test_a_pause_the_server_asks_for_is_kept(phone: Phone, own_shop: LanServer) -> None:
    pair(phone, pairing_code(own_shop))
    token = phone.fact("token")
    # 120 requests a minute are allowed to one phone.
    for _ in range(121):
        last = own_shop.get("/api/v1/bundle", Authorization=f"Bearer {token}")
    assert last.status == 429 and int(last.headers["Retry-After"]) > 0
    asked: list[str] = []
    phone.page.on("request", lambda request: asked.append(request.url))
    phone.open("#/phone")
    phone.page.get_by_role("button", name="Send now").tap()
    phone.does_say("the shop asked for a pause; it goes on by itself")
    asked.clear()
    phone.page.get_by_role("button", name="Send now").tap()
    phone.page.evaluate("window.dispatchEvent(new Event('online'))")
    phone.page.wait_for_timeout(2500)
    assert [url for url in asked if "/api/" in url] == []
    assert json.dumps(phone.fact("last_turn")).count("too_often") == 1
