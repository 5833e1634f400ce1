"""The log this server writes itself: what the office decides about recorded things."""

from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import Connection, func, select

from .. import __version__
from ..errors import OutOfRange
from ..trade.rows import COLUMNS, Row
from ..trade.times import parse_utc
from ..wire.row_check import row_problem
from .event_id import event_id
from .log import Contact, insert_row
from .schema import rows, server
from .store import Store


def append(connection: Connection, drafts: Sequence[Row], at: str) -> list[Row]:
    """Keep rows of the office inside a running transaction.

    :param drafts: what the rows say. An ``event_id`` or a time that is given is kept, else the row
        gets one of its own; log and running number are always those of the office.
    :param at: now, RFC 3339, UTC.
    :raises OutOfRange: a row is not what the log holds; another shop would not take it.
    """
    log_id = str(connection.scalar(select(server.c.log_id)))
    held = select(func.coalesce(func.max(rows.c.seq), 0)).where(rows.c.log_id == log_id)
    seq = int(connection.scalar(held) or 0)
    kept = []
    for number, draft in enumerate(drafts, start=seq + 1):
        row = replace(
            draft,
            log_id=log_id,
            seq=number,
            event_id=draft.event_id or event_id(parse_utc(at)),
            recorded_at=draft.recorded_at or at,
            utc_offset_min=draft.utc_offset_min or "0",
            app_version=draft.app_version or __version__,
        )
        _check(row)
        insert_row(connection, row, Contact(at, __version__))
        kept.append(row)
    return kept


def keep(store: Store, draft: Row, at: str) -> Row:
    """Keep one row of the office in a transaction of its own; see ``append``."""
    with store.write() as connection:
        return append(connection, [draft], at)[0]


def _check(row: Row) -> None:
    fields = {name: str(getattr(row, name)) for name in COLUMNS}
    name = row_problem(fields)
    if name:
        raise OutOfRange(name, fields.get(name, row.kind), "what the log holds in this column")
