"""The phone's own log: its ids, its CSV, and what it does when it cannot save."""

import sqlite3
from dataclasses import replace
from random import Random

from playwright.sync_api import Browser, expect

from companion.trade.rows import COLUMNS, Row
from companion.wire.log_csv import read_log, write_log
from tests.bench.conftest import MakePhone
from tests.running import RunningServer
from tests.sample_rows import row

TRICKY = ["", "plain", 'say "so"', "a,b", "two\r\nlines", " spaced ", "ä€😀", "=1+1", "tab\there"]


FILL_THE_STORAGE = """() => new Promise((resolve) => {
  const open = indexedDB.open('companion-bench');
  open.onsuccess = () => {
    const fill = (size, number) => {
      if (size < 16) { open.result.close(); resolve(number); return; }
      const transaction = open.result.transaction('facts', 'readwrite', { durability: 'strict' });
      const value = Array.from({ length: size }, () => Math.random()).join('').slice(0, size);
      transaction.objectStore('facts').put({ name: `ballast-${number}`, value });
      transaction.oncomplete = () => fill(size, number + 1);
      transaction.onabort = () => fill(Math.floor(size / 2), number + 1);
    };
    fill(256 * 1024, 0);
  };
})"""


def test_it_makes_ids_as_the_standard_s_example(server: RunningServer, browser: Browser) -> None:
    # CF-23: RFC 9562 appendix A.6 (working-group source opened): time, rand_a and rand_b of the
    # example give its UUID.
    page = browser.new_page()
    page.goto(f"{server.url}/rescue")
    made = page.evaluate(
        """async () => {
          const { eventId } = await import('/static/bench/log/event-id.js');
          const random = [0xcc, 0x31, 0x8c, 0x4d, 0xc0, 0xc0, 0xc0, 0x73, 0x98, 0xf0];
          return eventId(1645557742000, new Uint8Array(random));
        }"""
    )
    page.close()
    assert made == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_phone_and_server_write_the_same_csv(server: RunningServer, browser: Browser) -> None:
    dice = Random(4180)
    rows: list[Row] = []
    for number in range(1, 200):
        texts = {name: dice.choice(TRICKY) for name in ("note", "step", "typed", "person")}
        extra = (("mood", dice.choice(TRICKY)),) if dice.random() < 0.3 else ()
        rows.append(replace(row(number, **texts), extra=extra))
    page = browser.new_page()
    page.goto(f"{server.url}/rescue")
    plain = [
        {**{name: getattr(one, name) for name in COLUMNS}, "extra": [list(p) for p in one.extra]}
        for one in rows
    ]
    written = page.evaluate(
        "async (rows) => (await import('/static/bench/log/csv.js')).writeLog(rows)", plain
    )
    page.close()
    assert written == write_log(rows)
    assert len([line for line in read_log(written.encode()) if line.row]) == len(rows)


def test_a_reading_that_cannot_be_saved_is_said_to_be_not_saved(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server)
    assert phone.context is not None
    session = phone.context.new_cdp_session(phone.page)
    # The limit only counts for a storage that is not yet there.
    session.send("Storage.overrideQuotaForOrigin", {"origin": phone.url, "quotaSize": 4_000_000})
    phone.install()
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    before = phone.rows()
    phone.page.evaluate(FILL_THE_STORAGE)
    phone.type("121.5")
    phone.page.locator(".read").tap()
    stop = phone.page.locator("dialog.notice-stop[open]")
    expect(stop).to_contain_text("Not saved")
    phone.answer("Look again")
    assert phone.figure() == "121.0"
    assert phone.rows() == before
    # Room again: the same reading is taken.
    session.send("Storage.overrideQuotaForOrigin", {"origin": phone.url})
    phone.read("121.5")
    phone.does_say("Scan the can in your hand")
    assert len(phone.rows()) == 4
    assert phone.rows()[-1]["cup"] == code
    phone.expect_complaint("QuotaExceededError")


def test_a_wiped_store_starts_a_new_log(own_server: RunningServer, make_phone: MakePhone) -> None:
    phone = make_phone(own_server).install()
    first = phone.fact("log_id")
    phone.page.goto("about:blank")
    assert phone.context is not None
    session = phone.context.new_cdp_session(phone.page)
    session.send("Storage.clearDataForOrigin", {"origin": phone.url, "storageTypes": "indexeddb"})
    phone.install()
    assert phone.fact("log_id") != first


def test_rows_that_were_sent_stay_on_the_phone(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.send_now()
    assert len(phone.rows()) == 2


def test_a_server_that_holds_less_than_it_said_gets_the_rows_again(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    """Another epoch, as after a restored backup: the phone fills the hole by itself."""
    phone = make_phone(own_server).install()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.send_now()
    own_server.kill()
    database = sqlite3.connect(own_server.data_dir / "companion.sqlite3")
    log_id = phone.fact("log_id")
    with database:
        database.execute("DELETE FROM rows WHERE log_id = ?", (log_id,))
        database.execute("UPDATE server SET epoch = '00000000-0000-4000-8000-000000000001'")
    database.close()
    own_server.start()
    phone.send_now()
    exported = own_server.command("export", "--log", log_id).stdout
    assert len(exported.splitlines()) == 3


def test_another_server_is_not_believed(own_server: RunningServer, make_phone: MakePhone) -> None:
    phone = make_phone(own_server).install()
    own_server.kill()
    other = RunningServer(own_server.data_dir.parent / "other", port=own_server.port).start()
    try:
        phone.take("ply 1")
        phone.say_who()
        phone.read("8.4")
        phone.open("#/phone")
        phone.page.get_by_role("button", name="Send now").tap()
        phone.does_say("another server answered, nothing counts as sent")
        expect(phone.page.locator("dd").first).to_have_text("2 rows")
        # Nothing of one shop lies in the records of the other.
        exported = other.command("export", "--log", phone.fact("log_id")).stdout
        assert len(exported.splitlines()) == 1
        phone.expect_complaint("status of 409")
    finally:
        other.kill()
