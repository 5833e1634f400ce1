"""Checks of scales: rows of the log, written at the bench or here, each with its judgement."""

from dataclasses import dataclass

from sqlalchemy import select

from ..trade.card_forms.check import CheckedCheck
from ..trade.cards import ScaleCard
from ..trade.errors import OutOfRange
from ..trade.numbers import is_wire_number
from ..trade.rows import Row, voided_ids
from ..trade.scale_check import CheckJudgement, judge_check
from ..trade.weighing import reading_variance_g2
from . import catalogue, office_log
from .log import row_of
from .schema import rows
from .store import Store


@dataclass(frozen=True, slots=True)
class Check:
    """One check that stands; its judgement is None where scale or weight are not known."""

    row: Row
    judgement: CheckJudgement | None

    @property
    def scale(self) -> str:
        """Code of the scale, without its revision."""
        return self.row.scale.partition("@")[0]


def every(store: Store) -> list[Check]:
    """All checks that were not struck, the newest first."""
    scales = {card.name: card for card in catalogue.every(store, ScaleCard)}
    wanted = rows.c.kind.in_(("scale_checked", "voided"))
    query = select(rows).where(wanted).order_by(rows.c.recorded_at.desc(), rows.c.number.desc())
    with store.read() as connection:
        found = [row_of(one) for one in connection.execute(query).mappings()]
    struck = voided_ids(found)
    return [
        Check(row, _judged(row, scales.get(row.scale)))
        for row in found
        if row.kind == "scale_checked" and row.event_id not in struck
    ]


def write(store: Store, check: CheckedCheck, at: str) -> None:
    """Keep a check as a row of the office's own log.

    :param check: without problems.
    :param at: now, RFC 3339, UTC.
    """
    row = Row(
        kind="scale_checked",
        value=check.display,
        typed=check.display,
        unit="g",
        target=check.weight,
        scale=check.scale,
        person=check.person,
        # The class of the weight, which says what it may be off.
        note=check.weight_class,
    )
    office_log.keep(store, row, at)


def _judged(row: Row, scale: ScaleCard | None) -> CheckJudgement | None:
    if scale is None or not (is_wire_number(row.value) and is_wire_number(row.target)):
        return None
    variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)
    weight = row.note.strip()
    try:
        return judge_check(
            float(row.value), float(row.target), weight, scale.readability_g, variance_g2
        )
    except OutOfRange:
        return None
