"""Parts: what a job makes, each with a serial and a code of its own."""

from dataclasses import dataclass

from sqlalchemy import Connection, insert, select

from ..errors import NotKnown, Taken
from ..trade.cards import Job
from ..trade.serials import read_serial
from . import catalogue, labels
from .schema import parts
from .store import Store


@dataclass(frozen=True, slots=True)
class Part:
    """One part: the code on its label, the job with its revision, and its serial."""

    code: str
    job: str
    serial: str
    made_at: str


def every(store: Store) -> list[Part]:
    """All parts in the order they were entered."""
    query = select(parts).order_by(parts.c.made_at, parts.c.code)
    with store.read() as connection:
        return [Part(**found) for found in connection.execute(query).mappings()]


def add(store: Store, job: str, serial: str, at: str) -> str:
    """Enter a part and mint its code: both are kept, or neither.

    :param job: code of the job, with its revision or without (then the newest).
    :param serial: as typed; the space around it is dropped.
    :param at: now, RFC 3339, UTC.
    :return: the new code.
    :raises NotKnown: there is no such job.
    :raises OutOfRange: the serial is empty, too long or cannot be printed.
    :raises Taken: another part has this serial.
    """
    name, wanted = catalogue.named(store, Job, job).name, read_serial(serial)
    with store.write() as connection:
        return enter(connection, name, wanted, at)


def enter(connection: Connection, job: str, serial: str, at: str) -> str:
    """Enter a part inside a running transaction.

    :param job: with its revision.
    :param serial: as ``read_serial`` gives it.
    :raises Taken: another part has this serial.
    """
    holder = connection.scalar(select(parts.c.code).where(parts.c.serial == serial))
    if holder is not None:
        raise Taken("serial", serial, str(holder))
    (code,) = labels.take_codes(connection, 1, "", at)
    put(connection, Part(code, job, serial, at))
    return code


def of_job(store: Store, code: str) -> list[Part]:
    """Parts of a job in any of its revisions, in the order they were entered."""
    return [part for part in every(store) if part.job.partition("@")[0] == code]


def put(connection: Connection, part: Part) -> None:
    """Keep a part inside a running transaction."""
    values = {name: getattr(part, name) for name in Part.__dataclass_fields__}
    connection.execute(insert(parts).values(**values))


def find(store: Store, code: str) -> Part:
    """The part of a code.

    :raises NotKnown: no part has this code.
    """
    with store.read() as connection:
        found = connection.execute(select(parts).where(parts.c.code == code)).mappings().first()
    if found is None:
        raise NotKnown("part", code)
    return Part(**found)
