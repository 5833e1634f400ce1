"""The row: one observation at the bench, as text, exactly as it was recorded.

The order of ``COLUMNS`` is the order of the log on the wire. Every field stays text, except the
running number ``seq``, so that a figure keeps the decimals the scale showed.
"""

from collections.abc import Iterable
from dataclasses import dataclass, fields

FORMAT = "1"


@dataclass(frozen=True, slots=True)
class Row:
    """One observation. ``event_id`` identifies it, ``after`` names the cup's row before it."""

    format: str = FORMAT
    log_id: str = ""
    seq: int = 0
    event_id: str = ""
    after: str = ""
    recorded_at: str = ""
    utc_offset_min: str = ""
    kind: str = ""
    cup: str = ""
    job: str = ""
    step: str = ""
    component: str = ""
    lot: str = ""
    container: str = ""
    value: str = ""
    unit: str = ""
    typed: str = ""
    target: str = ""
    shown: str = ""
    scale: str = ""
    person: str = ""
    refers_to: str = ""
    note: str = ""
    system: str = ""
    app_version: str = ""
    #: columns a later version added; kept, never dropped.
    extra: tuple[tuple[str, str], ...] = ()


COLUMNS: tuple[str, ...] = tuple(f.name for f in fields(Row) if f.name != "extra")

#: What a row may report; unknown kinds are kept all the same.
KINDS: frozenset[str] = frozenset(
    """cup_started labelled weighed rezeroed scale_restarted lot_used pour_opened mix_started mixed
    divided poured leftover scrapped sampled felt_warm container_opened container_weighed climate
    scale_checked step_started step_done tack_tested part_weighed part_disposed shipped deviation
    note voided aside_settled scraped covered uncovered away setting disposed
    unidentified""".split()
)

#: Kinds whose value must be a number.
NUMERIC_KINDS: frozenset[str] = frozenset(
    """weighed rezeroed scale_restarted leftover container_weighed climate scale_checked
    part_weighed unidentified""".split()
)


def by_id(rows: list[Row]) -> dict[str, Row]:
    """Index rows by ``event_id``; the first of two equal ids stays."""
    index: dict[str, Row] = {}
    for row in rows:
        index.setdefault(row.event_id, row)
    return index


def voided_ids(rows: Iterable[Row]) -> frozenset[str]:
    """Ids of the rows that a later row struck; they are kept and count no more."""
    return frozenset(row.refers_to for row in rows if row.kind == "voided")
