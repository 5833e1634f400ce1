"""What the pages of the door are rendered from. Every field says what it holds."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from ...records.sessions import Session


@dataclass(frozen=True, slots=True)
class DoorPage:
    """Asking for the passphrase, or for a new one."""

    is_set: Annotated[bool, "whether the office has a passphrase"]
    then: Annotated[str, "path of the page that was asked for"]
    errors: Annotated[Mapping[str, str], "what is wrong, by field"]


@dataclass(frozen=True, slots=True)
class SessionLine:
    """One browser that is in."""

    session: Annotated[Session, "the session"]
    browser: Annotated[str, "browser and system in short; empty if it named none we know"]
    is_this: Annotated[bool, "whether it is the one that looks"]


@dataclass(frozen=True, slots=True)
class AccessPage:
    """Who may come in."""

    is_open: Annotated[bool, "whether nobody is asked"]
    sessions: Annotated[tuple[SessionLine, ...], "browsers that are in, last used first"]
