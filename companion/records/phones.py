"""The phones whose logs are here: last contact, what is held, what is missing, who may send."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from sqlalchemy import Connection, func, select

from ..trade.times import format_utc, parse_utc
from .log import holdings
from .pairing import PairedPhone, every
from .schema import logs, rows, server
from .store import Store

#: More rows of one phone in a day than a busy day has: a person should look.
MOST_ROWS_A_DAY = 5000


@dataclass(frozen=True, slots=True)
class LogSummary:
    """One phone's log as the server knows it."""

    log_id: str
    last_contact_at: str
    app_version: str
    clock_offset_ms: int | None
    rows: int
    missing: tuple[tuple[int, int], ...]
    #: rows the phone still held back when it sent last; None if it never said.
    unsent: int | None
    #: rows received within the last day.
    rows_today: int
    #: None for a phone that was never paired: on this machine, or brought by file.
    paired: PairedPhone | None


def all_logs(store: Store, now_utc: str) -> list[LogSummary]:
    """Every log that has been in contact or was paired, the last contact first."""
    paired = {phone.log_id: phone for phone in every(store)}
    with store.read() as connection:
        own = connection.scalar(select(server.c.log_id))
        known = {
            found["log_id"]: found
            for found in connection.execute(select(logs).where(logs.c.log_id != own)).mappings()
        }
        counts = _counts(connection, "")
        today = _counts(connection, format_utc(parse_utc(now_utc) - timedelta(days=1)))
        found = [
            LogSummary(
                **_contact(known.get(log_id), paired.get(log_id)),
                log_id=log_id,
                rows=counts.get(log_id, 0),
                missing=holdings(connection, log_id)[1],
                rows_today=today.get(log_id, 0),
                paired=paired.get(log_id),
            )
            for log_id in {**known, **paired}
        ]
    return sorted(found, key=lambda log: log.last_contact_at, reverse=True)


def rows_held(store: Store) -> int:
    """Number of rows of all logs, the office's among them."""
    with store.read() as connection:
        return connection.scalar(select(func.count()).select_from(rows)) or 0


def _contact(found: Any, phone: PairedPhone | None) -> dict[str, Any]:
    """When the phone was heard of, and what it said of itself."""
    names = ("app_version", "clock_offset_ms", "unsent")
    said = {name: found[name] if found else None for name in names}
    seen = (found["last_contact_at"] if found else "", phone.last_seen_at if phone else "")
    return {**said, "app_version": said["app_version"] or "", "last_contact_at": max(seen)}


def _counts(connection: Connection, since: str) -> dict[str, int]:
    query = select(rows.c.log_id, func.count()).where(rows.c.received_at >= since)
    return {log_id: count for log_id, count in connection.execute(query.group_by(rows.c.log_id))}
