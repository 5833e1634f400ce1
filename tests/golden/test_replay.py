"""Every released format stays readable, and means what it meant."""

import csv
import io
import json
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from companion.records import aside, catalogue, log
from companion.records.log import Contact
from companion.records.store import Store, integrity_problems
from companion.trade.rows import COLUMNS
from companion.wire.log_csv import read_log, write_log
from tests.bench.conftest import MakePhone
from tests.golden.replay import FORMATS, cups, opened, read
from tests.running import RunningServer

pytestmark = pytest.mark.parametrize("golden", FORMATS, ids=lambda path: path.name)
#: Last digits of a float may differ on another machine; 1e-12 is far below any display.
ROUNDING = 1e-12


def agrees(told: list[dict[str, Any]], golden: Path) -> None:
    expected = read(golden / "expected.json")
    assert [one["id"] for one in told] == [one["id"] for one in expected]
    for one, wanted in zip(told, expected, strict=True):
        for name, value in wanted.items():
            if isinstance(value, float):
                assert one[name] == pytest.approx(value, rel=ROUNDING), (one["code"], name)
            else:
                assert one[name] == value, (one["code"], name)


@pytest.fixture
def store(golden: Path, tmp_path: Path):
    kept = opened(golden / "records.sqlite3", tmp_path)
    yield kept
    kept.close()


def test_the_log_is_written_as_it_was_read(golden: Path) -> None:
    body = (golden / "log.csv").read_bytes()
    lines = read_log(body)
    assert [line.problem for line in lines] == [""] * len(lines)
    assert write_log([line.row for line in lines if line.row]).encode() == body
    # Another reader of CSV finds the same fields.
    read_elsewhere = list(csv.DictReader(io.StringIO(body.decode(), newline="")))
    assert [one["event_id"] for one in read_elsewhere] == [
        line.row.event_id for line in lines if line.row
    ]
    assert set(COLUMNS) <= set(read_elsewhere[0])


def test_a_log_brought_to_a_new_shop_makes_the_same_cups(
    golden: Path, store: Store, tmp_path: Path
) -> None:
    fresh = Store(f"sqlite:///{tmp_path / 'fresh.sqlite3'}")
    fresh.migrate()
    catalogue.found(fresh, demo=True)
    for kind in catalogue.CARDS:
        for card in catalogue.every(store, kind):
            catalogue.put(fresh, card, "2026-03-08T09:00:00.000Z")
    lines = read_log((golden / "log.csv").read_bytes())
    results = log.import_lines(fresh, lines, Contact("2026-03-08T09:00:00.000Z"))
    assert {result.status for result in results} == {"stored"}
    agrees(cups(fresh), golden)
    fresh.close()


def test_the_records_open_and_mean_what_they_meant(golden: Path, store: Store) -> None:
    assert integrity_problems(store) == []
    agrees(cups(store), golden)
    assert log.export(store).encode() == (golden / "log.csv").read_bytes()
    decided = [one.decision.outcome for one in aside.all_strays(store) if one.decision]
    assert sorted(decided) == [aside.LEFT_OUT, aside.TAKEN_IN]


def test_no_table_and_no_line_is_lost_when_the_records_are_opened(
    golden: Path, store: Store
) -> None:
    before = counts(golden / "records.sqlite3")
    after = counts(Path(str(store.engine.url.database)))
    assert {name: after.get(name) for name in before} == before


def counts(path: Path) -> dict[str, int]:
    with sqlite3.connect(f"file:{path}?mode=ro", uri=True) as connection:
        names = [
            name
            for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            if not name.startswith("sqlite_")
        ]
        return {
            name: connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]
            for name in names
        }


def serving(golden: Path, tmp_path: Path) -> RunningServer:
    """Today's program on the records of that time."""
    data = tmp_path / "data"
    data.mkdir()
    (data / "companion.sqlite3").write_bytes((golden / "records.sqlite3").read_bytes())
    return RunningServer(data).start()


def test_the_bundle_still_tells_an_old_phone_all_it_knew(golden: Path, tmp_path: Path) -> None:
    server = serving(golden, tmp_path)
    try:
        today = json.loads(server.get("/api/v1/bundle"))
    finally:
        server.kill()
    holds(today, read(golden / "bundle.json"), "bundle")


def holds(today: Any, then: Any, at: str) -> None:
    """Everything of that time is there today; what was added since may stand beside it."""
    if isinstance(then, dict):
        assert isinstance(today, dict), at
        for name, value in then.items():
            assert name in today, f"{at}.{name}"
            holds(today[name], value, f"{at}.{name}")
    elif isinstance(then, list):
        assert isinstance(today, list) and len(today) == len(then), at
        for number, (one, value) in enumerate(zip(today, then, strict=True)):
            holds(one, value, f"{at}[{number}]")
    else:
        assert today == then, at


PUT_BACK = """(store) => new Promise((resolve, reject) => {
  const open = indexedDB.open(store.name, store.version);
  open.onerror = () => reject(open.error);
  open.onupgradeneeded = () => {
    for (const [name, { keyPath, indexes, records }] of Object.entries(store.stores)) {
      const made = open.result.createObjectStore(name, { keyPath });
      for (const { name, keyPath, unique } of indexes) made.createIndex(name, keyPath, { unique });
      for (const record of records) made.put(record);
    }
  };
  open.onsuccess = () => { open.result.close(); resolve(); };
})"""


def test_the_store_of_a_phone_opens_and_comes_home(
    golden: Path, tmp_path: Path, make_phone: MakePhone
) -> None:
    kept = read(golden / "bench-store.json")
    server = serving(golden, tmp_path)
    try:
        phone = make_phone(server)
        # A page of this origin that does not open the store itself, and has no icon.
        phone.expect_complaint("status of 404")
        phone.page.goto(f"{server.url}/static/bench/trade/errors.js")
        phone.page.evaluate(PUT_BACK, kept)
        phone.open()
        rows = kept["stores"]["rows"]["records"]
        assert phone.rows() == rows
        for cup in read(golden / "expected.json"):
            if cup["rows"][-1] in {row["event_id"] for row in rows}:
                phone.open(f"#/story/{cup['code']}")
                expect(phone.page.locator(".story .rows li")).to_have_count(len(cup["rows"]))
        phone.send_now()
        exported = server.command("export", "--log", phone.fact("log_id")).stdout
    finally:
        server.kill()
    sent = [line.row for line in read_log(exported.encode())]
    assert [row.event_id for row in sent if row] == [row["event_id"] for row in rows]


def test_the_phone_folds_that_log_to_the_same_cups(
    golden: Path, server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(server)
    phone.expect_complaint("status of 404")
    phone.page.goto(f"{server.url}/static/bench/trade/errors.js")
    bundle = read(golden / "bundle.json")
    lines = read_log((golden / "log.csv").read_bytes())
    rows = [
        {**{name: getattr(line.row, name) for name in COLUMNS}, "extra": list(line.row.extra)}
        for line in lines
        if line.row
    ]
    told = phone.page.evaluate(
        """async ({ rows, bundle }) => {
          const at = '/static/bench/trade/';
          const { cups } = await import(at + 'chain.js');
          const { fold } = await import(at + 'cup/index.js');
          const named = (cards, name) =>
            cards.find((card) => `${card.code}@${card.revision}` === name);
          return cups(rows).map((own) => {
            const system = named(bundle.systems, own[0].system);
            const scale = named(bundle.scales, own[0].scale);
            const cup = fold(own, system, scale);
            return { ...cup, rows: own.map((row) => row.event_id) };
          });
        }""",
        {"rows": rows, "bundle": bundle},
    )
    agrees(sorted(told, key=lambda one: one["id"]), golden)
