"""The phones whose logs are here: last contact, what is held, what is missing."""

from dataclasses import dataclass

from sqlalchemy import func, select

from .log import holdings
from .schema import logs, rows, server
from .store import Store


@dataclass(frozen=True, slots=True)
class LogSummary:
    """One phone's log as the server knows it."""

    log_id: str
    last_contact_at: str
    app_version: str
    clock_offset_ms: int | None
    rows: int
    missing: tuple[tuple[int, int], ...]


def all_logs(store: Store) -> list[LogSummary]:
    """Every log that has been in contact, the last contact first."""
    with store.read() as connection:
        own = connection.scalar(select(server.c.log_id))
        query = select(logs).where(logs.c.log_id != own).order_by(logs.c.last_contact_at.desc())
        found = connection.execute(query).mappings()
        counts: dict[str, int] = {}
        for log_id, count in connection.execute(
            select(rows.c.log_id, func.count()).group_by(rows.c.log_id)
        ):
            counts[log_id] = count
        return [
            LogSummary(
                log_id=log["log_id"],
                last_contact_at=log["last_contact_at"],
                app_version=log["app_version"],
                clock_offset_ms=log["clock_offset_ms"],
                rows=counts.get(log["log_id"], 0),
                missing=holdings(connection, log["log_id"])[1],
            )
            for log in found
        ]
