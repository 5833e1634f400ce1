"""Which rows belong to one cup, and in which order.

A cup is its ``cup_started`` event; its code is only the label. Each row names in ``after`` the
last row of the cup its phone knew, so the order follows that chain and not the clocks of the
phones. Where two phones wrote after the same row the chain forks; both branches are kept.
"""

import heapq
from collections import defaultdict
from collections.abc import Iterable

from .rows import Row, by_id, voided_ids

_FILLS = frozenset({"weighed", "pour_opened"})


def cups(rows: Iterable[Row]) -> list[list[Row]]:
    """Group rows into cups, each in the order of its chain.

    :param rows: rows of any cups in any order; rows without a cup are left out.
    :return: one list per cup, starting with its ``cup_started`` where that row is known; cups in
        the order in which they began.
    """
    known = by_id([row for row in rows if row.cup])
    groups: dict[str, list[Row]] = defaultdict(list)
    for row in known.values():
        groups[_root(row, known)].append(row)
    ordered = [in_order(group) for group in groups.values()]
    return sorted(ordered, key=lambda group: _moment(group[0]))


def in_order(rows: Iterable[Row]) -> list[Row]:
    """Rows of one cup in the order of the chain; ties by time, log and running number."""
    known = by_id(list(rows))
    waiting: dict[str, list[Row]] = defaultdict(list)
    ready: list[tuple[tuple[str, str, int], Row]] = []
    for row in known.values():
        if row.after in known and row.after != row.event_id:
            waiting[row.after].append(row)
        else:
            ready.append((_moment(row), row))
    heap = [(moment, index, row) for index, (moment, row) in enumerate(ready)]
    heapq.heapify(heap)
    ordered: list[Row] = []
    count = len(heap)
    while heap:
        _, _, row = heapq.heappop(heap)
        ordered.append(row)
        for follower in waiting.pop(row.event_id, []):
            heapq.heappush(heap, (_moment(follower), count, follower))
            count += 1
    # A ring of rows cannot come from a phone; if one ever arrives its rows are still shown.
    for group in waiting.values():
        ordered.extend(group)
    return ordered


def label(rows: Iterable[Row]) -> str:
    """Code on the label a cup carries now.

    :param rows: every row of one cup, any order.
    :return: the code of its last ``labelled`` row that stands, else the one it was started under;
        empty without rows.
    :source: design section 7, blank labels are bound by scanning; common practice, no source.
    """
    ordered = in_order(rows)
    struck = voided_ids(ordered)
    code = next((row.cup for row in ordered if row.kind == "cup_started"), "")
    code = code or next((row.cup for row in ordered), "")
    for row in ordered:
        if row.kind == "labelled" and row.event_id not in struck:
            code = row.cup
    return code


def double_filled(rows: Iterable[Row]) -> bool:
    """Whether two phones filled this cup without knowing of each other.

    True where the chain forks and at least two branches hold a reading or opened the hardener.
    """
    ordered = in_order(rows)
    followers: dict[str, list[Row]] = defaultdict(list)
    for row in ordered:
        followers[row.after].append(row)
    fills: dict[str, bool] = {}
    for row in reversed(ordered):
        branches = [fills.get(f.event_id, False) for f in followers[row.event_id]]
        if sum(branches) > 1:
            return True
        fills[row.event_id] = any(branches) or (row.kind in _FILLS and not row.refers_to)
    return False


def _root(row: Row, known: dict[str, Row]) -> str:
    seen = {row.event_id}
    while row.kind != "cup_started":
        before = known.get(row.after)
        if before is None or before.event_id in seen:
            # The beginning has not arrived yet: the label holds these rows together.
            return f"label:{row.cup}"
        seen.add(before.event_id)
        row = before
    return row.event_id


def _moment(row: Row) -> tuple[str, str, int]:
    return (row.recorded_at, row.log_id, row.seq)
