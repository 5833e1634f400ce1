"""What each page is rendered from. Every field says what it holds.

Masses and figures are recorded text with a point, or numbers that a filter rounds for reading;
words are in the reader's language already.
"""

from dataclasses import dataclass
from typing import Annotated

from ...records.lineage import ContainerTrace, LotTrace, PartTrace
from ...records.plans import PlannedCup
from ...trade.ratio import Targets
from ...trade.section import Layer


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """One planned cup in a list."""

    plan: Annotated[PlannedCup, "the plan as it was made"]
    part: Annotated[str, "part the job makes; empty without a job"]
    step: Annotated[str, "step of the job, in words; empty if none was given"]
    targets: Annotated[Targets | None, "masses of both parts; None if the system is not known"]
    newest: Annotated[str, "newest revision of its system, where the plan is of an older one"]
    hardener_word: Annotated[str, "word the shop says for the hardener; empty if not known"]
    paste: Annotated[str, "paste on top of the total, in words; empty if none is planned"]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A cup in section."""

    layers: Annotated[tuple[Layer, ...], "layers from the bottom up"]
    decimals: Annotated[int, "digits after the point of its masses"]


@dataclass(frozen=True, slots=True)
class Judged:
    """What the readings of one cup say."""

    verdict: Annotated[str, "one of the four states, unknown, or empty while there is none"]
    shape: Annotated[str, "name of the shape that stands for it"]
    error: Annotated[float | None, "ratio error, 1"]
    uncertainty: Annotated[float | None, "its expanded uncertainty, 1"]
    direction: Annotated[str, "hardener-rich or hardener-lean in words; empty if neither"]


@dataclass(frozen=True, slots=True)
class WeighedLine:
    """One cup that was started at the bench, in a list."""

    code: Annotated[str, "label code"]
    at: Annotated[str, "moment of its last row, RFC 3339"]
    offset_min: Annotated[str, "offset from UTC of that row, minutes"]
    part: Annotated[str, "part the job makes; empty without a job"]
    step: Annotated[str, "step of the job"]
    system: Annotated[str, "system with its revision"]
    part_a_g: Annotated[float | None, "net part A, grams; None while there is none"]
    part_b_g: Annotated[float | None, "net part B, grams; None while there is none"]
    drawing: Annotated[Drawing | None, "the cup in section; None if its cards are not known"]
    judged: Annotated[Judged | None, "verdict; None if its cards are not known"]
    state: Annotated[str, "where it stands, in words"]
    person: Annotated[str, "who started it"]
    flagged: Annotated[bool, "whether its story holds something to look at"]


@dataclass(frozen=True, slots=True)
class CupsPage:
    """Start page."""

    planned: Annotated[tuple[PlannedLine, ...], "cups to be weighed, in the order of planning"]
    withdrawn: Annotated[tuple[PlannedLine, ...], "cups taken off the list and never started"]
    weighed: Annotated[tuple[WeighedLine, ...], "cups that changed last, the newest first"]
    more: Annotated[bool, "whether there are likely older ones"]
    just_withdrawn: Annotated[str, "code that was withdrawn a moment ago; empty if none"]


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a cup's facts."""

    term: Annotated[str, "what it is, in words"]
    text: Annotated[str, "the fact, in words and figures"]


@dataclass(frozen=True, slots=True)
class RowLine:
    """One row of a cup's story."""

    number: Annotated[int, "place in the story, from 1"]
    time: Annotated[str, "local time of day"]
    day: Annotated[str, "local day and offset from UTC"]
    what: Annotated[str, "what it reports, in words"]
    value: Annotated[str, "figure as recorded, text"]
    unit: Annotated[str, "its unit"]
    typed: Annotated[str, "what was typed, where it differs from the figure"]
    target: Annotated[str, "display the screen asked for, as recorded"]
    shown: Annotated[str, "verdict the screen showed, in words"]
    person: Annotated[str, "who"]
    scale: Annotated[str, "scale with its revision"]
    remarks: Annotated[tuple[str, ...], "lot, references to other rows, reasons, notes"]
    struck: Annotated[bool, "whether a later row struck it"]
    replaced: Annotated[bool, "whether a later reading stands in its place"]


@dataclass(frozen=True, slots=True)
class LotLine:
    """One container that was used."""

    component: Annotated[str, "a, b or the code of an additive"]
    lot: Annotated[str, "maker's lot"]
    container: Annotated[str, "our can"]
    reason: Annotated[str, "why it was used all the same, where a reason was written"]


@dataclass(frozen=True, slots=True)
class CupLots:
    """One cup with what went into it."""

    line: Annotated[WeighedLine, "the cup as a line of a list"]
    lots: Annotated[tuple[LotLine, ...], "lots and containers, each once"]
    warnings: Annotated[tuple[str, ...], "what a person should look at, in words"]


@dataclass(frozen=True, slots=True)
class SentLine:
    """A part of a job that cups were poured into."""

    code: Annotated[str, "code on its label"]
    serial: Annotated[str, "its serial"]
    job: Annotated[str, "its job"]
    shipped: Annotated[str, "to whom and when, in words; empty while it is here"]


@dataclass(frozen=True, slots=True)
class RecallLines:
    """What a recall of a lot or a can reaches."""

    code: Annotated[str, "the lot or can"]
    parts: Annotated[tuple[SentLine, ...], "parts of the jobs its cups were poured into"]
    doubtful: Annotated[tuple[WeighedLine, ...], "cups that cannot be excluded, oldest first"]
    doubtful_parts: Annotated[tuple[SentLine, ...], "parts of the jobs of these cups"]
    clear: Annotated[tuple[SentLine, ...], "parts that are proven clear"]
    since: Annotated[str, "first day a cup is in doubt for, in words; empty if not known"]


@dataclass(frozen=True, slots=True)
class TracePage:
    """What a code leads to."""

    typed: Annotated[str, "what was asked for; empty at first"]
    error: Annotated[str, "why nothing is shown; empty if something is"]
    code: Annotated[str, "the code as it stands on a label"]
    planned: Annotated[bool, "whether a cup is planned under it that nobody started"]
    cups: Annotated[tuple[CupLots, ...], "cups that carried it, the oldest first"]
    lot: Annotated[LotTrace | None, "the lot of this name"]
    lot_expires: Annotated[str, "day it expires, in words; empty if not known"]
    lot_cups: Annotated[tuple[WeighedLine, ...], "cups that used the lot, the newest first"]
    lot_recall: Annotated[RecallLines | None, "what a recall of the lot reaches"]
    container: Annotated[ContainerTrace | None, "the can of this code"]
    container_opened: Annotated[str, "day it was opened, in words; empty if not known"]
    container_recall: Annotated[RecallLines | None, "what a recall of the can reaches"]
    container_cups: Annotated[tuple[WeighedLine, ...], "cups that used the can, newest first"]
    part: Annotated[PartTrace | None, "the part of this code or serial"]
    part_name: Annotated[str, "what its job makes"]
    part_shipped: Annotated[str, "to whom and when, in words; empty while it is here"]
    part_struck: Annotated[tuple[str, ...], "its shippings that were struck, in words"]
    part_cups: Annotated[tuple[WeighedLine, ...], "cups poured for its job, the newest first"]


@dataclass(frozen=True, slots=True)
class StorySection:
    """One cup that carried the label."""

    id: Annotated[str, "identity of the cup"]
    started: Annotated[str, "local time at which it began"]
    facts: Annotated[tuple[Fact, ...], "what is known of it"]
    drawing: Annotated[Drawing | None, "the cup in section; None if its cards are not known"]
    judged: Annotated[Judged | None, "verdict; None if its cards are not known"]
    sentence: Annotated[str, "the verdict in a sentence"]
    warnings: Annotated[tuple[str, ...], "what a person should look at, in words"]
    lots: Annotated[tuple[LotLine, ...], "lots and containers"]
    rows: Annotated[tuple[RowLine, ...], "every row in order"]


@dataclass(frozen=True, slots=True)
class StoryPage:
    """Everything on record under one label."""

    code: Annotated[str, "label code"]
    plan: Annotated[PlannedLine | None, "its plan, where the office made one"]
    stories: Annotated[tuple[StorySection, ...], "every cup that carried it, the oldest first"]


@dataclass(frozen=True, slots=True)
class Choice:
    """One entry of a select."""

    value: Annotated[str, "what is sent"]
    label: Annotated[str, "what is shown"]


@dataclass(frozen=True, slots=True)
class AsideLine:
    """One row of a file just brought that was set aside."""

    seq: Annotated[str, "its running number; empty if it has none"]
    status: Annotated[str, "quarantined or in conflict, in words"]
    reason: Annotated[str, "why, in words"]
    at: Annotated[str, "its line in the file"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a file that was brought."""

    total: Annotated[int, "rows in the file"]
    counts: Annotated[tuple[tuple[str, int], ...], "status -> rows"]
    aside: Annotated[tuple[AsideLine, ...], "rows set aside, at most as many as a page shows"]
    more_aside: Annotated[int, "rows set aside that are not shown here"]


@dataclass(frozen=True, slots=True)
class ExchangePage:
    """Export and import."""

    error: Annotated[str, "what is wrong with the file; empty if nothing"]
    outcome: Annotated[Outcome | None, "what became of a file; None if none was brought"]
