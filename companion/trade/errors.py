"""What the arithmetic refuses, with the evidence as fields."""


class CompanionError(Exception):
    """Base of every error of this program; ``http_hint`` is the status an edge may answer."""

    http_hint = 400


class OutOfRange(CompanionError):
    """A figure lies outside what the rule accepts.

    :ivar field: name of the figure, with its unit.
    :ivar value: the figure as it was given.
    :ivar allowed: what is allowed, in words.
    """

    http_hint = 422

    def __init__(self, field: str, value: object, allowed: str) -> None:
        self.field = field
        self.value = value
        self.allowed = allowed
        super().__init__(f"{field} is {value!s}: allowed is {allowed}")


def require_positive(field: str, value: float) -> None:
    """Refuse a figure that is not a finite number above zero.

    :raises OutOfRange: value is zero, negative, infinite or not a number.
    """
    if not 0 < value < float("inf"):
        raise OutOfRange(field, value, "a number above 0")
