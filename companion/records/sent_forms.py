"""Forms that mint codes are kept as sent, so that a second click on one mints no second code."""

from sqlalchemy import Connection, insert, select

from ..errors import CompanionError
from .schema import one_time_codes
from .tokens import sha256

_PURPOSE = "form"


class SentBefore(CompanionError):
    """The same form with the same content was sent before.

    :ivar result: what came of it the first time.
    """

    http_hint = 409

    def __init__(self, result: str) -> None:
        self.result = result
        super().__init__(f"this form was sent before; it made {result}")


def refuse_again(connection: Connection, mark: str) -> None:
    """Look whether a form was sent before, inside a running transaction.

    :param mark: of the form and its content; empty where a form bears none.
    :raises SentBefore: it was.
    """
    query = select(one_time_codes.c.name).where(
        one_time_codes.c.code_sha256 == sha256(mark), one_time_codes.c.purpose == _PURPOSE
    )
    held = connection.scalar(query) if mark else None
    if held is not None:
        raise SentBefore(str(held))


def keep(connection: Connection, mark: str, result: str, at: str) -> None:
    """Keep a form as sent, inside the transaction that makes what it asks for.

    :param mark: as in ``refuse_again``.
    :param result: what came of it: the code of a can, the moment of a plan.
    :param at: now, RFC 3339, UTC.
    """
    if mark:
        connection.execute(
            insert(one_time_codes).values(
                code_sha256=sha256(mark),
                purpose=_PURPOSE,
                name=result,
                replaces="",
                made_at=at,
                expires_at=at,
                used_at=at,
            )
        )
