"""What the pages of the rows set aside show; every field carries its help."""

from dataclasses import dataclass
from typing import Annotated

from .context import Choice


@dataclass(frozen=True, slots=True)
class AsideEntry:
    """One row that was set aside."""

    number: Annotated[int, "its number in the list"]
    log_id: Annotated[str, "log it came with; empty if it names none"]
    seq: Annotated[str, "its running number; empty if it has none"]
    status: Annotated[str, "quarantined or in conflict, in words"]
    reason: Annotated[str, "why, in words"]
    raw: Annotated[str, "its text as it came"]
    header: Annotated[str, "column names of its file, where not those of the format"]
    at: Annotated[str, "when it was received"]
    outcome: Annotated[str, "what was decided, in words; empty while it waits"]
    decided: Annotated[str, "who decided, when and why, in words"]


@dataclass(frozen=True, slots=True)
class AsidePage:
    """The worklist."""

    waiting: Annotated[tuple[AsideEntry, ...], "rows to decide on, the oldest first"]
    decided: Annotated[tuple[AsideEntry, ...], "rows decided on, the newest decision first"]
    waiting_total: Annotated[int, "how many wait in all"]
    decided_total: Annotated[int, "how many are decided in all"]
    number: Annotated[int, "number of this page, from 1"]
    pages: Annotated[int, "how many pages there are"]


@dataclass(frozen=True, slots=True)
class AsideField:
    """One column of a quarantined row, to be corrected."""

    name: Annotated[str, "column of the log"]
    value: Annotated[str, "its text as it came, or as it was corrected"]


@dataclass(frozen=True, slots=True)
class Compared:
    """One column of a row in conflict, beside the stored row."""

    name: Annotated[str, "column of the log"]
    came: Annotated[str, "as it came"]
    stored: Annotated[str, "as it is stored"]
    differs: Annotated[bool, "whether the two are different"]


@dataclass(frozen=True, slots=True)
class AsideRowPage:
    """One row set aside, and the forms to decide on it."""

    entry: Annotated[AsideEntry, "the row"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it, in the order of the form"]
    people: Annotated[tuple[Choice, ...], "who may decide"]
    decided_by: Annotated[str, "who was chosen"]
    reason: Annotated[str, "the reason as written"]
    fields: Annotated[tuple[AsideField, ...], "columns that can be corrected; empty for a conflict"]
    compared: Annotated[tuple[Compared, ...], "columns beside the stored row; empty where none is"]
    begins_cup: Annotated[bool, "whether it starts a cup that is stored otherwise: left out only"]
    may_leave_out: Annotated[bool, "whether it still waits"]
    may_take_in: Annotated[bool, "whether it was not taken in yet"]
