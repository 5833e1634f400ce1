"""What the page of labels is given, with a help text per field."""

from dataclasses import dataclass
from typing import Annotated

from ...paper.asked import Asked
from ...paper.preview import Preview as PagePreview
from .context import Choice


@dataclass(frozen=True, slots=True)
class LabelChoice:
    """One cup, can or part whose label can be made."""

    code: Annotated[str, "label code"]
    text: Annotated[str, "what it is, in words"]
    made: Annotated[str, "when its label was made last, in words; empty if never"]
    chosen: Annotated[bool, "whether it is ticked"]


@dataclass(frozen=True, slots=True)
class Preset:
    """A sheet to start from."""

    name: Annotated[str, "what is sent"]
    label: Annotated[str, "its measures in words"]


@dataclass(frozen=True, slots=True)
class NewPart:
    """The form that enters a part."""

    job: Annotated[str, "job with its revision, as chosen"] = ""
    serial: Annotated[str, "serial as typed"] = ""


@dataclass(frozen=True, slots=True)
class LabelsPage:
    """The form for labels, and how they will look."""

    asked: Annotated[Asked, "what stands in the fields"]
    kinds: Annotated[tuple[Choice, ...], "what labels can be made for"]
    plan: Annotated[str, "moment of the plan whose cups are listed; empty for all"]
    plans: Annotated[tuple[Choice, ...], "plans with cups that wait; empty for other kinds"]
    choices: Annotated[tuple[LabelChoice, ...], "cups, cans or parts; empty for blank labels"]
    new_part: Annotated[NewPart, "what stands in the form for a part"]
    jobs: Annotated[tuple[Choice, ...], "newest jobs; empty for other kinds than parts"]
    presets: Annotated[tuple[Preset, ...], "sheets to start from"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it, in the order of the form"]
    count: Annotated[int, "labels that will be made"]
    preview: Annotated[PagePreview | None, "first page; None while something is wrong"]
    unprinted: Annotated[str, "letters no font on paper has, with spaces between; usually empty"]
