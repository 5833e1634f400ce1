"""What the pages of scales and of names are given, with a help text per field."""

from dataclasses import dataclass
from typing import Annotated

from ...records.names import Named
from .card_context import CardTable
from .context import Choice
from .plan_context import SystemJudgements


@dataclass(frozen=True, slots=True)
class ScalesPage:
    """Scales, their checks, and what they can judge."""

    scales: Annotated[CardTable, "the newest revision of each scale"]
    checks: Annotated[CardTable, "checks, the newest first"]
    judgements: Annotated[tuple[SystemJudgements, ...], "what each scale can judge, per system"]
    typed: Annotated[dict[str, str], "what stands in the form of a check"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it"]
    choices: Annotated[dict[str, tuple[Choice, ...]], "field -> what can be chosen"]
    written: Annotated[bool, "whether a check was just written"]


@dataclass(frozen=True, slots=True)
class Register:
    """People, or customers."""

    name: Annotated[str, "people or customers, as in its address"]
    title: Annotated[str, "the same in words"]
    caption: Annotated[str, "what their codes are for"]
    new: Annotated[str, "words that lead to the form of a new one"]
    entries: Annotated[tuple[Named, ...], "by code, the erased ones among them"]


@dataclass(frozen=True, slots=True)
class NamesPage:
    """Both registers."""

    registers: Annotated[tuple[Register, ...], "people, then customers"]
    done: Annotated[str, "what was just done, in words; empty if nothing"]


@dataclass(frozen=True, slots=True)
class NameFormPage:
    """Entering somebody, or another name for somebody."""

    title: Annotated[str, "what is being done, in words"]
    action: Annotated[str, "path the form is sent to"]
    asks_code: Annotated[bool, "whether the code is asked for"]
    code: Annotated[str, "code, as typed or as it is"]
    name: Annotated[str, "name as typed"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it"]


@dataclass(frozen=True, slots=True)
class ErasePage:
    """Asking once more before a name is erased."""

    register: Annotated[str, "people or customers, as in its address"]
    entry: Annotated[Named, "whose name it is"]
