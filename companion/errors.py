"""Errors of the rooms above the arithmetic; each carries what an edge needs to answer."""

from .trade.errors import CompanionError, OutOfRange

__all__ = [
    "CompanionError",
    "CouldNot",
    "InUse",
    "Malformed",
    "NotKnown",
    "NotProven",
    "OtherShop",
    "OutOfRange",
    "Taken",
    "TooLarge",
]


class Malformed(CompanionError):
    """A body or a file is not what its format says.

    :ivar problem: short code, stable for scripts.
    :ivar where: the line or column concerned, in words.
    :ivar allowed: what is allowed.
    """

    def __init__(self, problem: str, where: str, allowed: str) -> None:
        self.problem = problem
        self.where = where
        self.allowed = allowed
        super().__init__(f"{where}: {problem.replace('_', ' ')}; allowed is {allowed}")


class TooLarge(Malformed):
    """A body is larger than what one request may carry."""

    http_hint = 413


class NotKnown(CompanionError):
    """Something asked for by name is not here."""

    http_hint = 404

    def __init__(self, field: str, value: str) -> None:
        self.field = field
        self.value = value
        super().__init__(f"{field} {value!r} is not known here")


class Taken(CompanionError):
    """A name that only one may have is another's already.

    :ivar holder: who has it.
    """

    http_hint = 409

    def __init__(self, field: str, value: str, holder: str) -> None:
        self.field = field
        self.value = value
        self.holder = holder
        super().__init__(f"{field} {value!r} is taken by {holder}; allowed is one nobody has yet")


class OtherShop(CompanionError):
    """Rows were sent that belong to the records of another server."""

    http_hint = 409

    def __init__(self, wanted: str, own: str) -> None:
        self.wanted = wanted
        self.own = own
        super().__init__(f"the rows are meant for server {wanted}, this is {own}")


class InUse(Taken):
    """The records of a folder are being served, or restored."""

    def __init__(self, data_dir: object) -> None:
        super().__init__("--data", str(data_dir), "a server that is running")

    def __str__(self) -> str:
        return f"{self.field} {self.value!r} is taken by {self.holder}; stop it first"


class CouldNot(CompanionError):
    """What was asked for is right, but it could not be done; a command ends with exit code 1."""

    http_hint = 503


class NotProven(CouldNot):
    """A backup was made that cannot be called good; it was removed."""
