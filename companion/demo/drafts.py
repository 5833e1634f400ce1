"""Rows of the demo before they have their ids: what happened when, and to which cup."""

import uuid
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from ..records.event_id import event_id
from ..trade.rows import Row
from ..trade.times import format_utc


@dataclass(frozen=True, slots=True)
class Draft:
    """One observation.

    :ivar cup: number of the cup in the demo; 0 for a row of no cup.
    :ivar back: how many rows before it in its cup the row stands that it refers to; 0 for none.
    """

    at: datetime
    fields: Mapping[str, str]
    cup: int = 0
    back: int = 0


def ending_at(drafts: Sequence[Draft], end: datetime) -> list[Draft]:
    """The same, moved so that the last of them happens at a moment."""
    later = end - max(draft.at for draft in drafts)
    return [replace(draft, at=draft.at + later) for draft in drafts]


def as_phone_rows(drafts: Iterable[Draft], label_of: Callable[[int], str]) -> list[Row]:
    """Rows of one log, numbered in the order in which they happened."""
    log_id = str(uuid.uuid4())
    chains: dict[int, list[str]] = {}
    rows = []
    for seq, draft in enumerate(sorted(drafts, key=lambda draft: draft.at), start=1):
        fields: Mapping[str, Any] = draft.fields
        chain = chains.setdefault(draft.cup, []) if draft.cup else []
        row = Row(
            log_id=log_id,
            seq=seq,
            event_id=event_id(draft.at),
            after=chain[-1] if chain else "",
            recorded_at=format_utc(draft.at),
            utc_offset_min="0",
            cup=label_of(draft.cup) if draft.cup else "",
            refers_to=chain[-draft.back] if draft.back else "",
            app_version="demo",
            **fields,
        )
        chain.append(row.event_id)
        rows.append(row)
    return rows


def days_before(now: datetime, days_ago: int, hour: float) -> datetime:
    """A time of the day, so many days ago."""
    midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
    return midnight - timedelta(days=days_ago) + timedelta(hours=hour)
