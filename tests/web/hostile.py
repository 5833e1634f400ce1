"""A workshop whose every text is meant to do harm.

The texts are common practice for such drills (OWASP lists, from memory); what a spreadsheet
would compute comes from the tests of the tables.
"""

import uuid
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from playwright.sync_api import BrowserContext, Page
from sqlalchemy import Connection, insert

from companion.app import open_store
from companion.config import Config
from companion.records import catalogue, labels, parts, plans
from companion.records.event_id import event_id
from companion.records.schema import customers
from companion.records.store import Store
from companion.trade.cards import (
    Additive,
    Cloth,
    Container,
    CupType,
    Job,
    Lot,
    ReleaseAgent,
    ScaleCard,
    SystemCard,
)
from companion.trade.rows import Row
from companion.trade.times import format_utc
from tests.running import RunningServer

MARK = "window.__xss=1"
HARMFUL = (
    f"<script>{MARK}</script>",
    f"<img src=x onerror={MARK}>",
    f"'\"><svg onload={MARK}>",
    f"</textarea></select></title></script><script>{MARK}</script>",
    f"<iframe srcdoc='<script>parent.{MARK}</script>'></iframe>",
    f"javascript:{MARK}",
    f'" autofocus onfocus={MARK} x="',
    f"<a href=javascript:{MARK}>tap</a><form action=javascript:{MARK}><button>go</button></form>",
    "{{7*1337}}{% for x in y %}${7*1337}<%= 7*1337 %>",
    "%(num)s %(code)s %s {0} {num} &lt;b&gt; &amp;amp;",
    "\u202egnp.exe\u202c \u2066right\u2069 \u200bto left",
    "two\r\nlines\r\nSet-Cookie: harm=1\r\n\r\n<script>window.__xss=1</script>",
    '=HYPERLINK("http://127.0.0.1:9/","tap")',
    "@SUM(1+1)*cmd|' /C calc'!A0",
    "../../../../etc/passwd\\..\\..\\x';DROP TABLE rows;--",
    "__proto__",
    f"<img src=x onerror={MARK}>" * 29,
)
SCRIPT, IMAGE = HARMFUL[0], HARMFUL[1]
#: One of each way out: an element, an attribute, an address, a template, a line of a header.
SHORTER = [HARMFUL[number] for number in (0, 2, 5, 8, 11)]
#: More characters than a field may have.
TOO_LONG = "<b>" * 334
COMPUTED = "9359"


class Watch:
    """What pages did that texts must never make them do."""

    def __init__(self, context: BrowserContext) -> None:
        self.dialogs: list[str] = []
        self.errors: list[str] = []
        self.violations: list[str] = []
        self.failures: list[str] = []
        context.expose_binding("tellViolation", lambda _, what: self.violations.append(what))
        context.add_init_script(
            """addEventListener('securitypolicyviolation', (event) =>
                 window.tellViolation(`${event.violatedDirective} ${event.sample}`));"""
        )
        context.on("dialog", lambda dialog: (self.dialogs.append(dialog.message), dialog.dismiss()))
        context.on("weberror", lambda error: self.errors.append(str(error.error)))
        context.on("console", self._note)
        context.on("response", self._look_at)

    def _note(self, line: object) -> None:
        text, kind = line.text, line.type  # type: ignore[attr-defined]
        # A page that refuses what was typed is a page, with its status.
        if kind == "error" and "the server responded with a status of 4" not in text:
            self.errors.append(text)

    def _look_at(self, response: object) -> None:
        if response.status >= 500:  # type: ignore[attr-defined]
            self.failures.append(response.url)  # type: ignore[attr-defined]

    def is_clean(self) -> None:
        """Nothing ran, nothing was stopped by the policy, nothing broke."""
        print(f"policy violations: {len(self.violations)}")
        assert self.dialogs == []
        assert self.violations == []
        assert self.errors == []
        assert self.failures == []


#: Elements, attributes and addresses no page of ours has; the app has its two scripts.
FOUND = """() => {
  const strange = 'iframe, object, embed, base, form form, img[src="x"], meta[http-equiv]';
  const address = ['href', 'action', 'formaction', 'src'];
  const all = [...document.querySelectorAll('*')];
  const attributes = all.flatMap((one) => one.getAttributeNames());
  const schemes = all.flatMap((one) => address.map((name) => one.getAttribute(name)))
    .filter((value) => value !== null)
    .map((value) => new URL(value, location.href).protocol);
  const scripts = [...document.scripts].filter((one) =>
    one.id !== 'languages' && !one.getAttribute('src')?.startsWith('/static/bench/'));
  return [
    ...attributes.filter((name) => name.startsWith('on') || name === 'srcdoc'),
    ...[...document.querySelectorAll(strange), ...scripts].map((one) => one.outerHTML.slice(0, 80)),
    ...schemes.filter((one) => !['http:', 'https:', 'blob:'].includes(one)),
    ...(window.__xss === undefined ? [] : ['it ran']),
  ];
}"""


def is_inert(page: Page) -> str:
    """No element came from a text; returns what the page says."""
    assert page.evaluate(FOUND) == [], page.url
    said = page.locator("body").inner_text()
    assert COMPUTED not in said, page.url
    return said


@dataclass(frozen=True, slots=True)
class HostileShop:
    """A running shop full of such texts, and the logs they came in."""

    server: RunningServer
    store: Store
    sent: str
    imported: str


class Workshop:
    """Records whose every name does harm, and rows that come from phones and files."""

    def __init__(self, data_dir: Path) -> None:
        self._now = datetime.now(UTC) - timedelta(days=1)
        self._count = 0
        store = open_store(Config(data_dir, demo=True))
        made_at = format_utc(self._now)
        with store.write() as connection:
            self.codes = labels.take_codes(connection, 5 * len(HARMFUL), "", made_at)
            for number, text in enumerate(HARMFUL):
                self._cards(connection, number, text, made_at)
        store.close()

    def _cards(self, connection: Connection, number: int, text: str, made_at: str) -> None:
        can, part, planned = self.codes.pop(), self.codes.pop(), self.codes.pop()
        for card in (
            SystemCard(f"{text}", 1, text, text, text, 30, 2, 150, sources={"part_b_pbw": text}),
            ScaleCard(text, 1, "0.1", 3000),
            CupType(text, 1, 8.4, 250, text),
            Lot(text, 1, text, f"2031-01-{number + 1:02d}"),
            Lot(f"q{text}", 1, text, "", True, text),
            Container(can, 1, "HRD-S", text, "2031-01-01"),
            Cloth(text, 1, text, 200, 1.8, 1.27, {"usable_width_m": text}),
            ReleaseAgent(text, 1, 3, sources={"coats": text}),
            Additive(text, 1, text, 5, {"cap_pct": text}),
            Job(text, 1, text),
        ):
            catalogue.put_card(connection, card, made_at)
        catalogue.put_person(connection, text, text)
        connection.execute(insert(customers).values(code=text, name=text, erased_at=""))
        # A serial is refused by the form where it cannot be printed; a file may still bring it.
        parts.put(connection, parts.Part(part, f"{text}@1", text, made_at))
        plan = plans.PlannedCup(planned, f"{text}@1", text, f"{text}@1", "100", text, "", made_at)
        plans.add(connection, plan)

    def rows(self, log_id: str) -> list[Row]:
        """A cup for every text, in a system that is known, and a row in one that is not."""
        made: list[Row] = []
        for text in HARMFUL:
            cup, after = self.codes.pop(), ""
            shared = Row(
                log_id=log_id,
                cup=cup,
                job=f"{text}"[:900],
                step=text,
                person=text,
                system="RES-L+HRD-S@3",
                scale="S1@1",
                app_version=text,
                extra=((f"<script>{MARK}</script>", text),),
            )
            for fields in (
                {"kind": "cup_started", "value": "100"},
                {"kind": "weighed", "component": "cup", "value": "8.4", "typed": text},
                {"kind": "lot_used", "component": "a", "lot": text, "container": text},
                {"kind": "weighed", "component": "a", "value": "85.3", "target": text},
                {"kind": "deviation", "note": text, "refers_to": text},
                {"kind": "note", "note": text, "shown": text, "component": text},
                {"kind": "weighed", "component": text, "value": "9", "scale": text, "system": text},
            ):
                self._count += 1
                at = self._now + timedelta(seconds=self._count)
                row = replace(
                    shared,
                    seq=len(made) + 1,
                    event_id=event_id(at),
                    after=after,
                    recorded_at=format_utc(at),
                    utc_offset_min="0",
                    **fields,
                )
                made.append(row)
                after = row.event_id
        return made


def spoiled(rows: list[Row]) -> list[Row]:
    """Rows that are set aside: a text where something else belongs, or one too long."""
    broken = [
        replace(row, value=row.step, unit=row.step, kind=row.step, utc_offset_min=row.step)
        for row in rows[:: len(rows) // len(HARMFUL)]
    ]
    return [*broken, replace(rows[0], note=TOO_LONG)]


def fresh(log_id: str, rows: list[Row]) -> list[Row]:
    """The same rows as another log, with ids of its own."""
    at = datetime.now(UTC)
    ids = {row.event_id: event_id(at + timedelta(milliseconds=row.seq)) for row in rows}
    return [
        replace(
            row, log_id=log_id, event_id=ids[row.event_id], after=ids.get(row.after, ""), seq=n + 1
        )
        for n, row in enumerate(rows)
    ]


def new_log() -> str:
    """Id of a log."""
    return str(uuid.uuid4())
