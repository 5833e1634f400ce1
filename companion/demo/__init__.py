"""The demo workshop: two people who make paddles and hatch covers. All of it is invented."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from ..records import labels, parts, plans
from ..records.catalogue import card_of, put_card, put_person
from ..records.log import Contact, import_lines
from ..records.store import Store
from ..trade.times import format_utc
from ..wire.log_csv import read_log, write_log
from .weighings import demo_rows

_WORKSHOP = Path(__file__).parent / "workshop.json"
_DATES = ("expires_on", "opened_on")


def load_demo(store: Store) -> None:
    """Fill empty records with the demo workshop, its dates counted from today."""
    workshop = json.loads(_WORKSHOP.read_text(encoding="utf-8"))
    now = datetime.now(UTC)
    made_at = format_utc(now)
    with store.write() as connection:
        for kind, bodies in workshop["cards"].items():
            for body in bodies:
                put_card(connection, card_of(kind, _dated(body, now)), made_at)
        for code, name in workshop["people"].items():
            put_person(connection, code, name)
        labels.reserve(connection, [can["code"] for can in workshop["cards"]["container"]], made_at)
        planned, weighed = workshop["planned_cups"], workshop["weighed_cups"]
        made = workshop["parts"]
        count = len(planned) + len(weighed) + len(made)
        codes = labels.take_codes(connection, count, "", made_at)
        for number, part in enumerate(made):
            at = format_utc(now + timedelta(milliseconds=number))
            parts.put(connection, parts.Part(code=codes.pop(), made_at=at, **part))
        for number, cup in enumerate(planned):
            # One moment apart, so that they stand in the order of the lay-up.
            at = format_utc(now + timedelta(milliseconds=number))
            plans.add(connection, plans.PlannedCup(code=codes.pop(), made_at=at, **cup))
    rows = demo_rows(weighed, codes, now)
    import_lines(store, read_log(write_log(rows).encode()), Contact(made_at, "demo"))


def _dated(body: dict[str, Any], now: datetime) -> dict[str, Any]:
    """Turn "days from today" into dates, so that the demo never grows old."""
    return {
        name: (now + timedelta(days=value)).date().isoformat() if name in _DATES else value
        for name, value in body.items()
    }
