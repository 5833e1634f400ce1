"""Record golden files with the program as it is: ``python -m tests.golden.record format-2``.

A real phone weighs cups against a real server, so that what is kept is what the program writes and
not what somebody thinks it writes. Existing files are never overwritten.
"""

import json
import shutil
import sys
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from companion.app import open_store
from companion.config import Config
from companion.records import log, settling
from companion.records.aside import Decision, all_strays
from tests.bench.phone import Phone
from tests.golden import replay
from tests.running import RunningServer
from tests.sample_rows import LOG_ID, OTHER_LOG_ID, event_id, lines, row

AT = "2026-03-08T09:00:00.000Z"
BLANK = "9B3XWD"


def main(name: str) -> None:
    """Record everything into one new folder."""
    folder = Path(__file__).parent / name
    folder.mkdir()
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as playwright:
        data = Path(temporary) / "data"
        server = RunningServer(data).start()
        phone = Phone(
            playwright, shutil.which("chromium") or "chromium", Path(temporary) / "p", server.url
        )
        try:
            weigh(phone)
            bring_strange_rows(server, data)
            phone.send_now()
            server.kill()
            leave_unsent(phone)
            keep(folder / "bench-store.json", dump(phone))
        finally:
            phone.switch_off()
            server.kill()
        server.start()
        (folder / "bundle.json").write_text(server.get("/api/v1/bundle"), encoding="utf-8")
        server.command("export", "--output", str(folder / "log.csv"))
        server.kill()
        shutil.copy(data / "companion.sqlite3", folder / "records.sqlite3")
    keep(folder / "expected.json", replay.cups_of(folder))


def weigh(phone: Phone) -> None:
    """A cup into the part, one corrected, one under a new label, one scrapped."""
    phone.install()
    phone.take("ply 1")
    phone.say_who()
    for step in ("8.4", "121.5"):
        phone.read(step)
    phone.open_hardener("HRD2SM")
    phone.read("155.4")
    phone.page.get_by_role("button", name="Start mixing").tap()
    phone.page.get_by_role("button", name="Mixed").wait_for()
    phone.open()
    phone.take("ply 2")
    for step in ("8.6", "121.7"):
        phone.read(step)
    phone.open_hardener("HRD4SG")
    phone.answer("Use it for this reason", reason='trial "panel", not a part')
    phone.read("158.7")
    phone.open()
    code = phone.take("ply 3")
    phone.read("121.1")
    phone.open(f"#/type/label/{code}")
    phone.page.keyboard.type(BLANK)
    phone.answer("Yes, it is on the cup")
    phone.page.locator(".weigh a.code", has_text=BLANK).wait_for()
    phone.open(f"#/story/{BLANK}")
    phone.page.get_by_role("button", name="Add a note").tap()
    phone.answer("Keep it", reason="Ärmel, 2 g, ‘label’ came off\nsecond line")
    phone.open()
    waiting = phone.page.locator(".next-cups .card", has_text="shaft").locator(".code").inner_text()
    phone.open(f"#/scrap/{waiting}")
    phone.page.get_by_role("button", name="not needed").tap()


def bring_strange_rows(server: RunningServer, data: Path) -> None:
    """Two phones that filled one cup, a column of a later version, rows set aside and decided."""
    server.kill()
    store = open_store(Config(data, demo=True))
    first = [
        row(1, kind="cup_started", component="", value="146.4", typed=""),
        row(2, component="cup", value="8.4", typed="8,4", extra=(("moisture", "4"),)),
        row(3, value="121.3", typed="121.3"),
        row(4, kind="pour_opened", component="b", value="", unit="", typed=""),
        row(5, component="b", value="155.2", typed="155.2"),
    ]
    second = [
        replace(one, log_id=OTHER_LOG_ID, seq=number, event_id=event_id(100 + number))
        for number, one in enumerate(first[3:], start=1)
    ]
    second = [second[0], replace(second[1], after=second[0].event_id, value="155.5")]
    contact = log.Contact(AT)
    log.append(store, LOG_ID, lines(first), contact)
    log.append(store, OTHER_LOG_ID, lines(second), contact)
    log.append(store, LOG_ID, lines([replace(first[2], value="121.5")]), contact)
    log.append(store, LOG_ID, lines([replace(first[2], seq=9, value="heavy")]), contact)
    newest, oldest = all_strays(store)
    settling.take_in(store, oldest.number, Decision("", "O", "pencil note", AT), {})
    settling.leave_out(store, newest.number, Decision("", "H", "a slip", AT))
    store.close()
    server.start()


def leave_unsent(phone: Phone) -> None:
    """The next rows stay on the phone."""
    phone.open()
    phone.take("blade")
    phone.read("8.5")
    phone.read("67.2")


def dump(phone: Phone) -> dict[str, Any]:
    """The whole IndexedDB database of the bench."""
    found: dict[str, Any] = phone.page.evaluate(
        """() => new Promise((resolve, reject) => {
          const open = indexedDB.open('companion-bench');
          open.onerror = () => reject(open.error);
          open.onsuccess = async () => {
            const db = open.result;
            const stores = {};
            const transaction = db.transaction([...db.objectStoreNames]);
            for (const name of db.objectStoreNames) {
              const store = transaction.objectStore(name);
              const indexes = [...store.indexNames].map((each) => {
                const { name, keyPath, unique } = store.index(each);
                return { name, keyPath, unique };
              });
              const records = await new Promise((done) => {
                const all = store.getAll();
                all.onsuccess = () => done(all.result);
              });
              stores[name] = { keyPath: store.keyPath, indexes, records };
            }
            db.close();
            resolve({ name: db.name, version: db.version, stores });
          };
        })"""
    )
    return found


def keep(path: Path, value: Any) -> None:
    path.write_text(json.dumps(value, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
