"""What the pages of the phones are rendered from. Every field says what it holds."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from ...paper.qr import Pattern
from .context import Choice


@dataclass(frozen=True, slots=True)
class PhoneLine:
    """One phone's log in the list."""

    log_id: Annotated[str, "id of the phone's log"]
    name: Annotated[str, "what the shop calls it; the start of its log where it has no name"]
    standing: Annotated[str, "whether it may send, and since when, in words"]
    may_be_revoked: Annotated[bool, "whether it may send and can be cut off"]
    lost: Annotated[str, "which store it stands for and what may be missing; empty if none"]
    last_contact_at: Annotated[str, "moment it was heard of last, RFC 3339"]
    app_version: Annotated[str, "version it sent with; empty if its rows came by file"]
    rows: Annotated[int, "rows held here"]
    unsent: Annotated[int | None, "rows it still held when it sent last; None if not said"]
    is_flooding: Annotated[bool, "whether more rows came today than a busy day has"]
    missing: Annotated[tuple[str, ...], "ranges of running numbers that are missing"]
    clock: Annotated[str, "how far its clock is off, in words; empty if not measured"]
    clock_is_off: Annotated[bool, "whether that is worth pointing out"]


@dataclass(frozen=True, slots=True)
class PhonesPage:
    """The list of phones."""

    phones: Annotated[tuple[PhoneLine, ...], "phones, the last contact first"]
    address: Annotated[str, "address of the shop on its network; empty if it has none"]
    trust_address: Annotated[str, "where a phone learns to trust it; empty if nowhere"]


@dataclass(frozen=True, slots=True)
class PairPage:
    """Asking which phone is to be paired."""

    name: Annotated[str, "name as typed"]
    replaces: Annotated[str, "choice as made"]
    choices: Annotated[tuple[Choice, ...], "a new phone, or one it stands for"]
    errors: Annotated[Mapping[str, str], "what is wrong, by field"]


@dataclass(frozen=True, slots=True)
class CodePage:
    """A pairing code, shown once."""

    name: Annotated[str, "what the shop calls the phone"]
    code: Annotated[str, "the code in groups of four"]
    pattern: Annotated[Pattern, "its pattern"]
    black: Annotated[str, "the black of the pattern as one path, in modules"]
