"""The story of each cup: its rows, and the state folded from them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import case, func, select

from ..trade.cards import ScaleCard, SystemCard
from ..trade.chain import cups, label
from ..trade.cup import ENDINGS, Cup, fold
from ..trade.cup.sharing import is_share
from ..trade.rows import Row, voided_ids
from .catalogue import every
from .log import all_rows, relabelled, rows_of_cups
from .schema import rows
from .store import Store


@dataclass(frozen=True, slots=True)
class CupStory:
    """One cup: its rows in order, and its state where its cards are known here."""

    code: str
    rows: tuple[Row, ...]
    cup: Cup | None
    system: SystemCard | None
    scale: ScaleCard | None

    @property
    def id(self) -> str:
        """Identity of the cup: the event that started it (the first row known of it)."""
        return self.rows[0].event_id


def stories(store: Store, code: str) -> list[CupStory]:
    """Every cup that carried this label, the oldest first."""
    told = _tell(store, rows_of_cups(store, [code]))
    return [story for story in told if any(row.cup == code for row in story.rows)]


def stories_under(store: Store, codes: Sequence[str]) -> list[CupStory]:
    """Every cup that carried one of these labels or is linked to one by a change of label.

    Each once, the oldest first; who asks for one label or lot looks closer.
    """
    return _tell(store, rows_of_cups(store, codes)) if codes else []


def all_stories(store: Store) -> list[CupStory]:
    """Every cup, in the order in which they began."""
    return _tell(store, all_rows(store))


def latest_stories(store: Store, limit: int) -> list[CupStory]:
    """The cups that changed last, the newest first.

    :param limit: most labels to look at.
    """
    query = (
        select(rows.c.cup)
        .where(rows.c.cup != "")
        .group_by(rows.c.cup)
        .order_by(func.max(rows.c.number).desc())
        .limit(limit)
    )
    with store.read() as connection:
        codes = list(connection.scalars(query))
    told = _tell(store, rows_of_cups(store, codes))
    return sorted(told, key=lambda story: story.rows[-1].recorded_at, reverse=True)


def open_cups(store: Store) -> list[list[Row]]:
    """Rows of every cup that has not come to its end, or whose rest has still to set."""
    ends = func.sum(case((rows.c.kind.in_(ENDINGS), 1), else_=0))
    starts = func.sum(case((rows.c.kind == "cup_started", 1), else_=0))
    strikes = func.sum(case((rows.c.kind == "voided", 1), else_=0))
    left = func.sum(case((rows.c.kind == "setting", 1), else_=0))
    disposed = func.sum(case((rows.c.kind == "disposed", 1), else_=0))
    # A label may have been used twice, and an ending may have been struck: look closer then.
    query = (
        select(rows.c.cup)
        .where(rows.c.cup != "")
        .group_by(rows.c.cup)
        .having((ends < starts) | (ends == 0) | (strikes > 0) | (left > disposed))
    )
    with store.read() as connection:
        codes = list(connection.scalars(query))
    return [group for group in cups(rows_of_cups(store, codes)) if not _ended(group)]


def shared_cups(store: Store, since: str) -> list[list[Row]]:
    """Rows of cups that more than one phone wrote to, and that changed since a moment.

    A phone that only knows the beginning of such a cup would otherwise take it for open still,
    and ask for hardener again.

    :param since: RFC 3339, UTC.
    """
    query = (
        select(rows.c.cup)
        .where(rows.c.cup != "")
        .group_by(rows.c.cup)
        .having((func.count(rows.c.log_id.distinct()) > 1) & (func.max(rows.c.received_at) > since))
    )
    with store.read() as connection:
        codes = set(connection.scalars(query))
    # Under another label the rows of one phone look like a cup of its own.
    return cups(rows_of_cups(store, sorted(codes | relabelled(store, since))))


def mixes(store: Store, groups: Iterable[Sequence[Row]]) -> list[list[Row]]:
    """Rows of the cups whose divided mixes some cups are shares of, and are not among them."""
    missing, known = _missing_mixes(groups)
    found: list[list[Row]] = []
    while missing:
        added = [
            group
            for group in cups(rows_of_cups(store, sorted(missing)))
            if group[0].event_id not in known
        ]
        known |= {group[0].event_id for group in added}
        found += added
        # The mix of a share may itself be a share; what is not on record is asked for only once.
        missing = _missing_mixes(added)[0] - missing
    return found


def _missing_mixes(groups: Iterable[Sequence[Row]]) -> tuple[set[str], set[str]]:
    listed = list(groups)
    divisions = {row.event_id for group in listed for row in group if row.kind == "divided"}
    starts = [group[0] for group in listed]
    missing = {row.target for row in starts if is_share(row) and row.refers_to not in divisions}
    return missing, {row.event_id for row in starts}


def _ended(group: Iterable[Row]) -> bool:
    listed = list(group)
    struck = voided_ids(listed)
    standing = {row.kind for row in listed if row.event_id not in struck}
    is_setting = "setting" in standing and "disposed" not in standing
    return bool(standing & ENDINGS) and not is_setting


def _tell(store: Store, found: Iterable[Row]) -> list[CupStory]:
    systems = {card.name: card for card in every(store, SystemCard)}
    scales = {card.name: card for card in every(store, ScaleCard)}
    groups = cups(found)
    divided = {
        row.event_id: group
        for group in [*groups, *mixes(store, groups)]
        for row in group
        if row.kind == "divided"
    }

    def told(group: Sequence[Row], above: frozenset[str] = frozenset()) -> Cup | None:
        start = group[0]
        system, scale = systems.get(start.system), scales.get(start.scale)
        if system is None or scale is None:
            return None
        of = divided.get(start.refers_to) if is_share(start) else None
        # Rows that say a cup is a share of itself cannot come from a phone.
        mix = told(of, above | {start.event_id}) if of and start.event_id not in above else None
        return fold(group, system, scale, mix)

    return [
        CupStory(
            label(group),
            tuple(group),
            told(group),
            systems.get(group[0].system),
            scales.get(group[0].scale),
        )
        for group in groups
    ]


def started_codes(store: Store) -> set[str]:
    """Labels under which a cup has been started."""
    query = select(rows.c.cup).where(rows.c.kind == "cup_started")
    with store.read() as connection:
        return set(connection.scalars(query))
