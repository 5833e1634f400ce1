"""Cups the office has planned."""

from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from ..errors import NotKnown
from .schema import planned_cups
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


def add(connection: Connection, cup: PlannedCup) -> None:
    """Plan a cup inside a running transaction."""
    values = {name: getattr(cup, name) for name in PlannedCup.__dataclass_fields__}
    connection.execute(insert(planned_cups).values(**values))


def every(store: Store, *, withdrawn: bool = False) -> list[PlannedCup]:
    """Planned cups in the order they were planned; withdrawn ones only where asked."""
    query = select(planned_cups).order_by(planned_cups.c.made_at, planned_cups.c.code)
    if not withdrawn:
        query = query.where(planned_cups.c.withdrawn_at == "")
    with store.read() as connection:
        return [PlannedCup(**found) for found in connection.execute(query).mappings()]


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
