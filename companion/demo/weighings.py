"""Readings of the demo workshop as rows of a log, like those a phone would have sent."""

import uuid
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from ..records.event_id import event_id
from ..trade.rows import Row
from ..trade.times import format_utc

_SECONDS_BETWEEN_ROWS = 75


def demo_rows(cups: Sequence[dict[str, Any]], codes: Sequence[str], now: datetime) -> list[Row]:
    """Rows of the cups that were weighed before today.

    :param cups: per cup ``days_ago``, the fields its rows share, and its ``rows``.
    :param codes: one label per cup.
    :param now: time now, with its offset.
    """
    log_id = str(uuid.uuid4())
    rows: list[Row] = []
    for cup, code in zip(cups, codes, strict=True):
        after = ""
        moment = now - timedelta(days=cup["days_ago"], hours=2)
        for fields in cup["rows"]:
            moment += timedelta(seconds=_SECONDS_BETWEEN_ROWS)
            row = Row(
                log_id=log_id,
                seq=len(rows) + 1,
                event_id=event_id(moment),
                after=after,
                recorded_at=format_utc(moment),
                utc_offset_min="0",
                cup=code,
                app_version="demo",
                **{**cup["shared"], **_numbers(fields)},
            )
            rows.append(row)
            after = row.event_id
    return rows


def _numbers(fields: dict[str, str]) -> dict[str, str]:
    """A reading was typed as it stands, in grams."""
    return {**fields, "typed": fields["value"], "unit": "g"} if "value" in fields else fields
