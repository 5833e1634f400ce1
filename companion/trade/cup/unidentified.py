"""A cup nobody can name: its label cannot be read, and it fits no cup that is known.

It goes into no part, draws from no can (the cup it once was has its own rows), and comes to an end
as any other cup does.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from ..chain import in_order, label
from ..errors import OutOfRange
from ..rows import Row, voided_ids
from . import history
from .progress import CupState, Fact, reached


@dataclass(frozen=True, slots=True)
class Unidentified:
    """What is known of such a cup; masses in grams, times RFC 3339."""

    code: str
    state: CupState
    gross_g: float | None
    #: letters left of its label, ``?`` for those that are gone.
    letters: str
    found_at: str
    person: str
    ending: str
    set_at: str
    set_where: str
    disposed_at: str


def fold_unidentified(rows: Iterable[Row]) -> Unidentified | None:
    """State of an unidentified cup.

    :param rows: every row of one cup, any order.
    :return: None for a cup that is known, or was found to be after all.
    :raises OutOfRange: there is no row.
    :source: order of the work, common practice, no source; tests/cases/unidentified.json.
    """
    ordered = in_order(rows)
    if not ordered:
        raise OutOfRange("rows", 0, "at least the row that started the cup")
    voided = voided_ids(ordered)
    standing = [row for row in ordered if row.event_id not in voided]
    found = next((row for row in standing if row.kind == "unidentified"), None)
    if found is None:
        return None
    ending, setting = history.ending(standing), history.setting(standing)
    disposed_at = history.first_at(standing, "disposed")
    facts = {
        Fact.UNIDENTIFIED: True,
        Fact.ENDED: ending is not None,
        Fact.LEFT_TO_SET: setting is not None,
        Fact.COLD_AND_HARD: bool(disposed_at),
    }
    return Unidentified(
        code=label(ordered),
        state=reached(fact for fact, holds in facts.items() if holds),
        gross_g=history.number(found.value),
        letters=found.target,
        found_at=found.recorded_at,
        person=found.person,
        ending=ending.kind if ending else "",
        set_at=setting.recorded_at if setting else "",
        set_where=setting.note if setting else "",
        disposed_at=disposed_at,
    )
