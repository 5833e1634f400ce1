"""Codes on cups, containers and parts: five characters and a check character.

The alphabet leaves out 0, 1, I and O. The check is ISO 7064 MOD 37,36; codes whose check would be
one of those four are never minted. Read aloud or typed with wet gloves a code may come back in
lower case, with spaces, with 1 or I for L: that is forgiven. Look-alikes are proposed, never
applied.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from .errors import OutOfRange

ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
PAYLOAD_LENGTH = 5
CODE_LENGTH = PAYLOAD_LENGTH + 1

_ISO_7064 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_PLACES = {"C": "cup", "L": "container", "P": "part"}
# The host may be any: a label outlives the name of the server that printed it.
_ADDRESS = re.compile(
    r"[Hh][Tt][Tt][Pp][Ss]?://[^/?#\s\ufeff]{1,253}/(?P<place>[CLPclp])/(?P<code>[0-9A-Za-z]{6})"
)
_BARE = re.compile(r"(?P<code>[0-9A-Za-z]{6})")
_LOOK_ALIKES = {"5": "S", "S": "5", "2": "Z", "Z": "2", "8": "B", "B": "8"}


def check_character(payload: str) -> str:
    """Check character of a text of digits and capital letters.

    :param payload: at least one of 0-9 A-Z.
    :return: one of 0-9 A-Z.
    :raises OutOfRange: the payload is empty or holds another character.
    :source: ISO 7064 MOD 37,36 hybrid system; CF-01, CF-02, CF-04, CF-07 in tests/cases/codes.json,
        confirmed there with python-stdnum.
    """
    if not payload or any(character not in _ISO_7064 for character in payload):
        raise OutOfRange("payload", payload, "digits and capital letters")
    carry = 36
    for character in payload:
        carry = (carry + _ISO_7064.index(character)) % 36 or 36
        carry = carry * 2 % 37
    return _ISO_7064[(37 - carry) % 36]


def is_valid(code: str) -> bool:
    """Whether the last character of any code is its ISO 7064 check; lower case is not valid.

    :source: CF-08 in tests/cases/codes.json.
    """
    if len(code) < 2 or any(character not in _ISO_7064 for character in code):
        return False
    return check_character(code[:-1]) == code[-1]


def is_label(code: str) -> bool:
    """Whether this is a code of ours: six characters of our alphabet with a true check."""
    return len(code) == CODE_LENGTH and all(c in ALPHABET for c in code) and is_valid(code)


def mint(indices: Sequence[int]) -> str | None:
    """Make a code from five random numbers.

    :param indices: five integers, each 0 to 31.
    :return: the code, or None where its check character would be 0, 1, I or O: draw again.
    :raises OutOfRange: not five numbers of that range.
    """
    if len(indices) != PAYLOAD_LENGTH or any(not 0 <= i < len(ALPHABET) for i in indices):
        raise OutOfRange("indices", list(indices), "five whole numbers from 0 to 31")
    payload = "".join(ALPHABET[i] for i in indices)
    check = check_character(payload)
    return payload + check if check in ALPHABET else None


@dataclass(frozen=True, slots=True)
class TypedCode:
    """A code as a person typed it: the code, or why not, and what may have been meant."""

    code: str = ""
    problem: str = ""
    proposals: tuple[str, ...] = ()


def forgive(typed: str) -> TypedCode:
    """Read a typed code.

    :param typed: what the person entered.
    :return: the code, or a problem: ``length``, ``zero_or_o`` (the letter O and the digit 0 are
        in no code), ``character`` or ``check``; with ``check`` the look-alike codes that pass.
    :source: design section 7; common practice, no source.
    """
    text = "".join(typed.split()).replace("-", "").upper()
    text = text.replace("1", "L").replace("I", "L")
    if "0" in text or "O" in text:
        return TypedCode(problem="zero_or_o")
    if any(character not in ALPHABET for character in text):
        return TypedCode(problem="character")
    if len(text) != CODE_LENGTH:
        return TypedCode(problem="length")
    if is_valid(text):
        return TypedCode(code=text)
    return TypedCode(problem="check", proposals=_look_alike_codes(text))


@dataclass(frozen=True, slots=True)
class ScannedCode:
    """A pattern as a camera read it: the code and what it stands on, or why it is none of ours.

    ``place`` is ``cup``, ``container`` or ``part`` as the address of the label says, empty where
    the pattern holds the bare code.
    """

    code: str = ""
    place: str = ""
    problem: str = ""


def scanned(text: str) -> ScannedCode:
    """Read the text of a pattern: an address of ours on any host, or the bare code.

    :param text: what the pattern holds.
    :return: the code, or a problem: ``foreign`` (not the form of a label of ours) or ``check`` (its
        form, but the check character does not fit).
    :source: design section 7.
    """
    found = _ADDRESS.fullmatch(text) or _BARE.fullmatch(text)
    if found is None:
        return ScannedCode(problem="foreign")
    code = found["code"].upper()
    if not is_label(code):
        return ScannedCode(problem="check")
    place = found.groupdict().get("place") or ""
    return ScannedCode(code=code, place=_PLACES.get(place.upper(), ""))


def _look_alike_codes(text: str) -> tuple[str, ...]:
    options = [
        character + _LOOK_ALIKES[character] if character in _LOOK_ALIKES else character
        for character in text
    ]
    candidates = ("".join(characters) for characters in product(*options))
    return tuple(code for code in candidates if code != text and is_valid(code))
