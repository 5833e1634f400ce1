"""The log as received: appended once, whatever is sent twice, and nothing ever dropped."""

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, insert, select, update

from ..trade.rows import COLUMNS, Row
from ..wire.log_csv import Line, write_log
from .schema import logs, rows, strays
from .store import Store

#: Well below what SQLite allows in one statement by default, 32,766.
_MOST_VALUES = 10_000
STORED, DUPLICATE, CONFLICT, QUARANTINED = "stored", "duplicate", "conflict", "quarantined"


@dataclass(frozen=True, slots=True)
class RowResult:
    """What became of one row that was sent."""

    line: int
    seq: int | None
    event_id: str
    status: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Receipt:
    """What the server holds of one log after an append."""

    results: tuple[RowResult, ...]
    have_upto: int
    missing: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Contact:
    """Circumstances of an append: when, by which app, and how far the phone's clock is off."""

    received_at: str
    app_version: str = ""
    clock_offset_ms: int | None = None
    #: rows the phone still holds back, if it said so.
    unsent: int | None = None


def append(store: Store, log_id: str, lines: Sequence[Line], contact: Contact) -> Receipt:
    """Keep the rows of one log.

    :param log_id: the log these rows must belong to; others are set aside.
    :param lines: the rows as read from the wire.
    :return: a result per line and what is held now.
    """
    with store.write() as connection:
        results = _append(connection, log_id, lines, contact)
        _note_contact(connection, log_id, contact)
        have_upto, missing = holdings(connection, log_id)
    return Receipt(results, have_upto, missing)


def import_lines(store: Store, lines: Sequence[Line], contact: Contact) -> tuple[RowResult, ...]:
    """Keep rows of any logs from a file brought by hand; the same rules as over the network."""
    by_log: dict[str, list[Line]] = {}
    for line in lines:
        by_log.setdefault(line.log_id, []).append(line)
    results: list[RowResult] = []
    with store.write() as connection:
        for log_id, own in by_log.items():
            results.extend(_append(connection, log_id, own, contact))
            if log_id:
                _note_log(connection, log_id, contact)
    return tuple(sorted(results, key=lambda result: result.line))


def _append(
    connection: Connection, log_id: str, lines: Sequence[Line], contact: Contact
) -> tuple[RowResult, ...]:
    known = _known_rows(connection, log_id, lines)
    results, fresh = [], []
    for line in lines:
        row = line.row
        if row is None or row.log_id != log_id:
            reason = line.problem or "log_id"
            _set_aside(connection, log_id, line, QUARANTINED, reason, contact)
            event_id = row.event_id if row else ""
            results.append(RowResult(line.number, line.seq, event_id, QUARANTINED, reason))
            continue
        held = known.get(row.event_id) or known.get(row.seq)
        if held is None:
            fresh.append(row)
            known[row.event_id] = known[row.seq] = row
            results.append(RowResult(line.number, row.seq, row.event_id, STORED))
        elif held == row:
            results.append(RowResult(line.number, row.seq, row.event_id, DUPLICATE))
        else:
            reason = "seq" if held.event_id != row.event_id else "content"
            _set_aside(connection, log_id, line, CONFLICT, reason, contact)
            results.append(RowResult(line.number, row.seq, row.event_id, CONFLICT, reason))
    _insert_rows(connection, fresh, contact)
    return tuple(results)


def _known_rows(connection: Connection, log_id: str, lines: Sequence[Line]) -> dict[str | int, Row]:
    """Rows already held under an event id or a running number that comes again."""
    sent = [line.row for line in lines if line.row]
    known: dict[str | int, Row] = {}
    if not sent:
        return known
    low, high = min(row.seq for row in sent), max(row.seq for row in sent)
    own = (rows.c.log_id == log_id) & rows.c.seq.between(low, high)
    ids = _in_parts([row.event_id for row in sent])
    for which in (own, *(rows.c.event_id.in_(part) for part in ids)):
        for found in connection.execute(select(rows).where(which)).mappings():
            row = row_of(found)
            known[row.event_id] = row
            if row.log_id == log_id:
                known[row.seq] = row
    return known


def insert_row(connection: Connection, row: Row, contact: Contact) -> None:
    """Keep one row inside a running transaction."""
    _insert_rows(connection, [row], contact)


def _insert_rows(connection: Connection, fresh: Sequence[Row], contact: Contact) -> None:
    """Keep rows in their order; in one go, for a statement a row takes twenty times as long."""
    if fresh:
        received = _receipt(contact)
        connection.execute(insert(rows), [{**_columns(row), **received} for row in fresh])


def _columns(row: Row) -> dict[str, Any]:
    values: dict[str, Any] = {name: getattr(row, name) for name in COLUMNS}
    return {**values, "extra": json.dumps(row.extra, ensure_ascii=False)}


def _receipt(contact: Contact) -> dict[str, Any]:
    return {"received_at": contact.received_at, "clock_offset_ms": contact.clock_offset_ms}


def row_of(found: Any) -> Row:
    """A row of the log out of a line of the table."""
    extra = tuple((str(name), str(value)) for name, value in json.loads(found["extra"]))
    return Row(**{name: found[name] for name in COLUMNS}, extra=extra)


def _set_aside(
    connection: Connection, log_id: str, line: Line, status: str, reason: str, contact: Contact
) -> None:
    """Keep a stray once, however often it is sent."""
    sha256 = hashlib.sha256(line.raw.encode()).hexdigest()
    same = (strays.c.log_id == log_id) & (strays.c.raw_sha256 == sha256)
    if connection.execute(select(strays.c.number).where(same)).first() is None:
        connection.execute(
            insert(strays).values(
                log_id=log_id,
                seq=line.seq,
                status=status,
                reason=reason,
                raw=line.raw,
                header=line.header,
                raw_sha256=sha256,
                received_at=contact.received_at,
            )
        )


def _note_contact(connection: Connection, log_id: str, contact: Contact) -> None:
    """The phone itself was here."""
    _note_log(connection, log_id, contact)
    connection.execute(
        update(logs)
        .where(logs.c.log_id == log_id)
        .values(
            last_contact_at=contact.received_at,
            app_version=contact.app_version,
            clock_offset_ms=contact.clock_offset_ms,
            unsent=contact.unsent,
        )
    )


def _note_log(connection: Connection, log_id: str, contact: Contact) -> None:
    """A log is known from now on; a file brought by hand says nothing new of its phone."""
    if connection.execute(select(logs.c.log_id).where(logs.c.log_id == log_id)).first() is None:
        connection.execute(
            insert(logs).values(
                log_id=log_id,
                first_contact_at=contact.received_at,
                last_contact_at=contact.received_at,
                app_version=contact.app_version,
                clock_offset_ms=contact.clock_offset_ms,
            )
        )


def holdings(connection: Connection, log_id: str) -> tuple[int, tuple[tuple[int, int], ...]]:
    """Running number up to which everything is held, and the gaps above it."""
    held = select(rows.c.seq).where(rows.c.log_id == log_id)
    aside = select(strays.c.seq).where(strays.c.log_id == log_id, strays.c.seq.is_not(None))
    numbers = sorted(connection.scalars(held.union(aside)))
    gaps: list[tuple[int, int]] = []
    expected = 1
    for number in numbers:
        if number > expected:
            gaps.append((expected, number - 1))
        expected = number + 1
    have_upto = gaps[0][0] - 1 if gaps else expected - 1
    return have_upto, tuple(gaps)


def all_rows(store: Store, *, log_id: str = "", cup: str = "") -> list[Row]:
    """Rows in the order they were received, of one log or under one label where asked."""
    query = select(rows).order_by(rows.c.number)
    if log_id:
        query = query.where(rows.c.log_id == log_id)
    if cup:
        query = query.where(rows.c.cup == cup)
    with store.read() as connection:
        return [row_of(found) for found in connection.execute(query).mappings()]


def row_with_id(store: Store, event_id: str) -> Row | None:
    """The row held under an event id."""
    with store.read() as connection:
        found = connection.execute(select(rows).where(rows.c.event_id == event_id)).mappings()
        return next((row_of(one) for one in found), None)


def rows_of_cups(store: Store, codes: Sequence[str]) -> list[Row]:
    """Rows of cups that carried one of these labels, in the order they were received.

    A cup may have been given another label on the way: its rows under the other one come along.
    """
    with store.read() as connection:
        wanted = _linked(connection, codes)
        found = [
            one
            for part in _in_parts(sorted(wanted))
            for one in connection.execute(select(rows).where(rows.c.cup.in_(part))).mappings()
        ]
    return [row_of(one) for one in sorted(found, key=lambda one: int(one["number"]))]


def _linked(connection: Connection, codes: Sequence[str]) -> set[str]:
    """These labels, and those of the same cups before and after."""
    query = select(rows.c.target, rows.c.cup).where(rows.c.kind == "labelled")
    changes = [{before, after} - {""} for before, after in connection.execute(query)]
    wanted, size = set(codes), -1
    while len(wanted) > size:
        size = len(wanted)
        for change in changes:
            if change & wanted:
                wanted |= change
    return wanted


def _in_parts(texts: Sequence[str]) -> Iterator[Sequence[str]]:
    """A database takes only so many values in one question."""
    for start in range(0, len(texts), _MOST_VALUES):
        yield texts[start : start + _MOST_VALUES]


def relabelled(store: Store, since: str) -> set[str]:
    """Labels of cups that were given another one, as received since a moment (RFC 3339, UTC)."""
    query = select(rows.c.target, rows.c.cup).where(
        (rows.c.kind == "labelled") & (rows.c.received_at > since)
    )
    with store.read() as connection:
        return {code for pair in connection.execute(query) for code in pair if code}


def export(store: Store, *, log_id: str = "", cup: str = "") -> str:
    """The log as it travels, each phone's rows in their order."""
    found = rows_of_cups(store, [cup]) if cup else all_rows(store, log_id=log_id)
    found = [row for row in found if not log_id or row.log_id == log_id]
    return write_log(sorted(found, key=lambda row: (row.log_id, row.seq)))
