"""Serial numbers of parts: what a person may write on a part and type again."""

from .errors import OutOfRange

LONGEST_SERIAL = 40
ALLOWED = f"1 to {LONGEST_SERIAL} printable characters"


def read_serial(typed: str) -> str:
    """A serial without the space around it.

    :param typed: text as entered.
    :return: 1 to 40 characters that can all be seen, spaces between them included.
    :raises OutOfRange: it is empty, longer, or holds a character that cannot be seen.
    """
    serial = typed.strip()
    if not 1 <= len(serial) <= LONGEST_SERIAL or not serial.isprintable():
        raise OutOfRange("serial", typed, ALLOWED)
    return serial
