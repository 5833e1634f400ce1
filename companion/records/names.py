"""Names of people and customers: the code goes into the log, the name can be erased.

A code that was given once stays given: rows name it, and nobody else may be meant by it.
"""

from dataclasses import dataclass

from sqlalchemy import Connection, Table, insert, select, update

from ..errors import NotKnown, OutOfRange, Taken
from .schema import customers, people
from .store import Store

PEOPLE, CUSTOMERS = "people", "customers"
REGISTERS = {PEOPLE: people, CUSTOMERS: customers}
LONGEST_CODE, LONGEST_NAME = 12, 80


@dataclass(frozen=True, slots=True)
class Named:
    """One entry of a register; the name is empty once it was erased (RFC 3339, UTC)."""

    code: str
    name: str
    erased_at: str


def every(store: Store, register: str) -> list[Named]:
    """All entries by code, the erased ones among them.

    :raises NotKnown: there is no such register.
    """
    table = _table(register)
    query = select(table.c.code, table.c.name, table.c.erased_at).order_by(table.c.code)
    with store.read() as connection:
        return [Named(*found) for found in connection.execute(query)]


def current(store: Store, register: str) -> dict[str, str]:
    """Names by code of everybody whose name was not erased."""
    return {one.code: one.name for one in every(store, register) if not one.erased_at}


def find(store: Store, register: str, code: str) -> Named:
    """One entry.

    :raises NotKnown: the register has no such code.
    """
    for one in every(store, register):
        if one.code == code:
            return one
    raise NotKnown(register, code)


def add(store: Store, register: str, code: str, name: str) -> Named:
    """Enter somebody.

    :raises OutOfRange: code or name are empty, too long or cannot be printed.
    :raises Taken: the code is, or once was, somebody's.
    """
    entry = Named(_text("code", code, LONGEST_CODE), _text("name", name, LONGEST_NAME), "")
    table = _table(register)
    with store.write() as connection:
        held = connection.execute(select(table).where(table.c.code == entry.code)).first()
        if held is not None:
            raise Taken("code", entry.code, str(held.name) or entry.code)
        connection.execute(
            insert(table).values(code=entry.code, name=entry.name, erased_at=entry.erased_at)
        )
    return entry


def rename(store: Store, register: str, code: str, name: str) -> None:
    """Give somebody another name.

    :raises OutOfRange: the name is empty, too long or cannot be printed.
    :raises NotKnown: nobody has this code, or the name was erased.
    """
    wanted, table = _text("name", name, LONGEST_NAME), _table(register)
    with store.write() as connection:
        _standing(connection, table, register, code)
        connection.execute(update(table).where(table.c.code == code).values(name=wanted))


def erase(store: Store, register: str, code: str, at: str) -> None:
    """Erase a name for good; the code stays, for rows name it.

    :param at: now, RFC 3339, UTC.
    :raises NotKnown: nobody has this code, or the name was erased already.
    """
    table = _table(register)
    with store.write() as connection:
        _standing(connection, table, register, code)
        connection.execute(update(table).where(table.c.code == code).values(name="", erased_at=at))


def _table(register: str) -> Table:
    if register not in REGISTERS:
        raise NotKnown("register", register)
    return REGISTERS[register]


def _standing(connection: Connection, table: Table, register: str, code: str) -> None:
    query = select(table.c.code).where(table.c.code == code, table.c.erased_at == "")
    if connection.execute(query).first() is None:
        raise NotKnown(register, code)


def _text(field: str, typed: str, most: int) -> str:
    text = typed.strip()
    if not 1 <= len(text) <= most or not text.isprintable():
        raise OutOfRange(field, typed, f"1 to {most} printable characters")
    return text
