"""The demo workshop: two people who make paddles and hatch covers. All of it is invented."""

import json
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from ..records import labels, office_log, parts, plans
from ..records.catalogue import Card, card_of, put_card, put_customer, put_person
from ..records.log import Contact, import_lines
from ..records.store import Store
from ..trade.rows import Row
from ..trade.times import format_utc
from ..wire.log_csv import read_log, write_log
from .drafts import as_phone_rows, days_before
from .log import drafts_of_log

_WORKSHOP = Path(__file__).parent / "workshop.json"
_DATES = ("expires_on", "opened_on")
#: Age of a card that does not say when it was made, days.
_CARD_DAYS = 60


def load_demo(store: Store) -> None:
    """Fill empty records with the demo workshop, its dates counted from today."""
    workshop = json.loads(_WORKSHOP.read_text(encoding="utf-8"))
    now = datetime.now(UTC)
    made_at = format_utc(now)
    cards = list(_cards(workshop["cards"], now))
    drafts = drafts_of_log(cards, workshop["weighed_cups"], now)
    with store.write() as connection:
        for days_ago, card in cards:
            put_card(connection, card, format_utc(now - timedelta(days=days_ago)))
        for code, name in workshop["people"].items():
            put_person(connection, code, name)
        for code, name in workshop["customers"].items():
            put_customer(connection, code, name)
        cans = [can["code"] for can in workshop["cards"]["container"]]
        labels.reserve(connection, cans, made_at)
        planned, made = workshop["planned_cups"], workshop["parts"]
        weighed = max(draft.cup for draft in drafts)
        codes = labels.take_codes(connection, len(planned) + len(made) + weighed, "", made_at)
        for number, part in enumerate(made):
            code, at = codes.pop(), _moment(now, number)
            parts.put(connection, parts.Part(code, part["job"], part["serial"], at))
            for row in _shipping(part, code, now):
                office_log.append(connection, [row], row.recorded_at)
        for number, cup in enumerate(planned):
            at = _moment(now, number)
            plans.add(connection, plans.PlannedCup(code=codes.pop(), made_at=at, **cup))
    rows = as_phone_rows(drafts, lambda cup: codes[cup - 1])
    import_lines(store, read_log(write_log(rows).encode()), Contact(made_at, "demo"))


def _moment(now: datetime, number: int) -> str:
    """One moment apart, so that things stand in the order of the workshop."""
    return format_utc(now - timedelta(seconds=1) + timedelta(milliseconds=number))


def _cards(kinds: Mapping[str, Any], now: datetime) -> Iterator[tuple[int, Card]]:
    """Every card, with how many days ago it was made."""
    for kind, bodies in kinds.items():
        for body in bodies:
            yield body.get("made_days_ago", _CARD_DAYS), card_of(kind, _dated(body, now))


def _dated(body: Mapping[str, Any], now: datetime) -> dict[str, Any]:
    """Turn "days from today" into dates, so that the demo never grows old."""
    return {
        name: (now + timedelta(days=value)).date().isoformat() if name in _DATES else value
        for name, value in body.items()
    }


def _shipping(part: Mapping[str, Any], code: str, now: datetime) -> Iterator[Row]:
    """The row that says to whom a part went, if it did."""
    if "shipped" in part:
        at = format_utc(days_before(now, part["shipped"]["days_ago"], 15))
        customer, person = part["shipped"]["customer"], part["shipped"]["person"]
        shared = {"job": part["job"], "component": code, "value": customer, "person": person}
        yield Row(kind="shipped", recorded_at=at, **shared)
