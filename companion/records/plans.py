"""Cups the office has planned."""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection, insert, select, update

from ..errors import NotKnown, Taken
from ..trade.cards import SystemCard
from . import labels, sent_forms, trace
from .schema import planned_cups, rows
from .store import Store


@dataclass(frozen=True, slots=True)
class PlannedCup:
    """A cup to be weighed: its label, what for, and how much. Masses are text, as entered, in g."""

    code: str
    job: str
    step: str
    system: str
    total: str
    cup_type: str = ""
    #: mass of this very cup where it was weighed before and stands on its label.
    cup_mass: str = ""
    made_at: str = ""
    withdrawn_at: str = ""
    #: code of a paste or filler in its part A, and its share of part A in per cent.
    additive: str = ""
    additive_pct: str = ""


def add(connection: Connection, cup: PlannedCup) -> None:
    """Plan a cup inside a running transaction."""
    values = {name: getattr(cup, name) for name in PlannedCup.__dataclass_fields__}
    connection.execute(insert(planned_cups).values(**values))


def order(store: Store, cup: PlannedCup, count: int, at: str, mark: str = "") -> list[PlannedCup]:
    """Plan cups that are alike but for their labels: all of them are kept, or none.

    :param cup: what each of them is for; its code does not count.
    :param count: how many.
    :param mark: of the form they come from; empty if none.
    :raises SentBefore: the same form was sent before, with the moment of its cups.
    """
    with store.write() as connection:
        sent_forms.refuse_again(connection, mark)
        codes = labels.take_codes(connection, count, "", at)
        planned = [replace(cup, code=code, made_at=at) for code in codes]
        for one in planned:
            add(connection, one)
        sent_forms.keep(connection, mark, at, at)
    return planned


def order_all(store: Store, job: str, cups: Sequence[PlannedCup], at: str) -> list[PlannedCup]:
    """Plan all cups of a job at one moment: all of them are kept, or none.

    Cups of its other revisions that nobody has started are withdrawn: mixed beside the new ones
    they would be resin for a part that is not made like that any more.

    :param job: with its revision; the cups are all of it.
    :param cups: in the order of the work; their codes do not count.
    :raises Taken: cups of this revision are planned already and not withdrawn.
    """
    standing = select(planned_cups.c.made_at).where(
        planned_cups.c.job == job, planned_cups.c.withdrawn_at == ""
    )
    with store.write() as connection:
        holder = connection.scalar(standing.order_by(planned_cups.c.made_at.desc()))
        if holder is not None:
            raise Taken("job", job, str(holder))
        _withdraw_unstarted(connection, job.partition("@")[0], at)
        codes = labels.take_codes(connection, len(cups), "", at)
        # Lists are by moment and code, so that in this order they are in the order of the work.
        pairs = zip(cups, codes, strict=True)
        planned = [replace(cup, job=job, code=code, made_at=at) for cup, code in pairs]
        for one in planned:
            add(connection, one)
    return planned


def digest(cups: Sequence[PlannedCup]) -> str:
    """What tells one set of cups from another: steps, systems, totals and paste, in their order."""
    said = [
        (cup.step, cup.system, cup.total, cup.additive, cup.additive_pct, cup.cup_type)
        for cup in cups
    ]
    return hashlib.sha256(json.dumps(said).encode()).hexdigest()


def _withdraw_unstarted(connection: Connection, code: str, at: str) -> None:
    started = select(rows.c.cup).where(rows.c.cup != "")
    of_it = planned_cups.c.job.startswith(f"{code}@", autoescape=True)
    connection.execute(
        update(planned_cups)
        .where(of_it, planned_cups.c.withdrawn_at == "", planned_cups.c.code.not_in(started))
        .values(withdrawn_at=at)
    )


def of_job(store: Store, code: str) -> list[PlannedCup]:
    """Planned cups of a job in any of its revisions that were not withdrawn."""
    return [cup for cup in every(store) if cup.job.partition("@")[0] == code]


def every(store: Store, *, withdrawn: bool = False) -> list[PlannedCup]:
    """Planned cups in the order they were planned; withdrawn ones only where asked."""
    query = select(planned_cups).order_by(planned_cups.c.made_at, planned_cups.c.code)
    if not withdrawn:
        query = query.where(planned_cups.c.withdrawn_at == "")
    with store.read() as connection:
        return [PlannedCup(**found) for found in connection.execute(query).mappings()]


def waiting(store: Store) -> list[PlannedCup]:
    """Planned cups nobody has started, in the order they were planned."""
    started = trace.started_codes(store)
    return [cup for cup in every(store) if cup.code not in started]


def of_revision(store: Store, job: str) -> list[PlannedCup]:
    """Planned cups of one revision of a job that were not withdrawn, in the order of the work.

    :param job: with its revision.
    """
    return [cup for cup in every(store) if cup.job == job]


def outdated(store: Store, card: SystemCard) -> list[PlannedCup]:
    """Cups that wait, planned by a revision of a system before this one."""
    earlier = {f"{card.code}@{revision}" for revision in range(1, card.revision)}
    return [cup for cup in waiting(store) if cup.system in earlier]


def by_plan(cups: Sequence[PlannedCup]) -> dict[str, list[PlannedCup]]:
    """Cups by the moment they were planned at: those of one moment are one plan."""
    found: dict[str, list[PlannedCup]] = {}
    for cup in cups:
        found.setdefault(cup.made_at, []).append(cup)
    return found


def withdraw(store: Store, code: str, at: str) -> None:
    """Take a planned cup off the list; it stays on record.

    :raises NotKnown: no such cup is planned.
    """
    query = (
        update(planned_cups)
        .where(planned_cups.c.code == code, planned_cups.c.withdrawn_at == "")
        .values(withdrawn_at=at)
    )
    with store.write() as connection:
        if connection.execute(query).rowcount == 0:
            raise NotKnown("planned cup", code)


def restore(store: Store, code: str) -> None:
    """Put a withdrawn cup back on the list.

    :raises NotKnown: no such cup was withdrawn.
    """
    query = (
        update(planned_cups)
        .where(planned_cups.c.code == code, planned_cups.c.withdrawn_at != "")
        .values(withdrawn_at="")
    )
    with store.write() as connection:
        if connection.execute(query).rowcount == 0:
            raise NotKnown("withdrawn cup", code)
