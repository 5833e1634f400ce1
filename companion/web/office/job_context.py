"""What the pages of jobs are rendered from; every field carries its help."""

from dataclasses import dataclass
from typing import Annotated

from ...records.plans import PlannedCup
from ...trade.job_form import TypedJob
from ...trade.job_order import JobOrder
from .card_context import RevisionLine
from .context import Choice, Drawing


@dataclass(frozen=True, slots=True)
class JobLine:
    """One job in the list."""

    code: Annotated[str, "code of the job"]
    revision: Annotated[int, "its newest revision"]
    part: Annotated[str, "part it makes"]
    serials: Annotated[tuple[str, ...], "serials of its parts"]
    customer: Annotated[str, "name of the customer, or the code; empty if none"]
    state: Annotated[str, "where it stands, in words"]


@dataclass(frozen=True, slots=True)
class JobsPage:
    """The list of jobs."""

    jobs: Annotated[tuple[JobLine, ...], "newest revision of every job, by code"]
    errors: Annotated[dict[str, str], "what is wrong with a file that was brought"]


@dataclass(frozen=True, slots=True)
class JobFormPage:
    """The form of a job."""

    typed: Annotated[TypedJob, "what stands in the fields"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it, in the order of the form"]
    code: Annotated[str, "code of the job that is changed; empty for a new one"]
    revision: Annotated[int, "revision the form was opened at; 0 for a new job"]
    raced: Annotated[bool, "whether somebody made another revision in the meantime"]
    systems: Annotated[tuple[Choice, ...], "newest systems"]
    cloths: Annotated[tuple[Choice, ...], "newest cloths, and those of the job without a card"]
    release_agents: Annotated[tuple[Choice, ...], "newest release agents"]
    additives: Annotated[tuple[Choice, ...], "newest pastes and fillers"]
    customers: Annotated[tuple[Choice, ...], "customers whose name was not erased"]


@dataclass(frozen=True, slots=True)
class PlanCupLine:
    """One cup of a plan, or one that stands ordered."""

    code: Annotated[str, "code on its label; empty while it is not ordered"]
    step: Annotated[str, "step it is mixed for, in words"]
    plies: Annotated[str, "plies its resin goes into, in words; empty for a coat"]
    system: Annotated[str, "system with its revision"]
    hardener_word: Annotated[str, "word the shop says for the hardener"]
    part_a_g: Annotated[float, "part A, grams"]
    part_b_g: Annotated[float, "part B, grams"]
    paste: Annotated[str, "paste on top of A and B, in words; empty if none"]
    total_g: Annotated[float, "A and B, grams"]
    drawing: Annotated[Drawing, "the cup in section"]


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why there is no plan."""

    said: Annotated[str, "what was asked and what is allowed, in words"]
    nearest: Annotated[str, "nearest plan that works, in words; empty if none"]
    cups: Annotated[int, "cups to ask for instead; 0 where a number of cups changes nothing"]
    least_cup: Annotated[str, "size to mix no cup below, grams, text; empty if it stays"]
    take: Annotated[str, "what the button says; empty without one"]


@dataclass(frozen=True, slots=True)
class PlanView:
    """The plan at one temperature."""

    heading: Annotated[str, "at which temperature, in words"]
    temperature: Annotated[str, "degrees Celsius as asked for; empty for those of the sheets"]
    shown: Annotated[str, "digest of its cups: what is ordered is what was shown"]
    cups: Annotated[tuple[PlanCupLine, ...], "cups in the order of the work"]
    total_g: Annotated[float, "part A and part B of all cups, grams"]
    refusal: Annotated[Refusal | None, "why there is none; None if there is one"]
    cautions: Annotated[tuple[str, ...], "what must be said beside it, in words"]


@dataclass(frozen=True, slots=True)
class Fact:
    """One figure of the plan."""

    term: Annotated[str, "what it is, in words"]
    text: Annotated[str, "the figure with its unit"]


@dataclass(frozen=True, slots=True)
class TimesLine:
    """One limit of a system, at the temperatures compared."""

    system: Annotated[str, "system with its revision"]
    what: Annotated[str, "which limit, in words"]
    values: Annotated[tuple[str, ...], "one per temperature, in words"]


@dataclass(frozen=True, slots=True)
class StackLine:
    """One layer of the stack, drawn to scale and told beside it."""

    number: Annotated[str, "number of the ply; empty for the coat"]
    said: Annotated[str, "what it is, in words"]
    thick: Annotated[str, "thickness with its unit"]
    kind: Annotated[str, "coat, odd or even: how it is drawn"]
    top: Annotated[float, "upper edge, units of the drawing"]
    height: Annotated[float, "height, units of the drawing"]


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One step of the lay-up sheet."""

    step: Annotated[str, "the step, in words"]
    what: Annotated[str, "material and direction, in words"]
    times: Annotated[str, "how long it waits, in words; empty where nothing is waited for"]


@dataclass(frozen=True, slots=True)
class StockLine:
    """One material of the plan against the stock."""

    material: Annotated[str, "its name"]
    needed_g: Annotated[float, "what the plan takes, grams"]
    elsewhere_g: Annotated[float, "what cups planned for other jobs take of it, grams"]
    usable_g: Annotated[float, "what is left in cans that may be used, grams"]
    state: Annotated[str, "enough, short and so on, in words"]
    enough: Annotated[bool, "whether it is enough"]


@dataclass(frozen=True, slots=True)
class PartLine:
    """One part of the job."""

    code: Annotated[str, "code on its label"]
    serial: Annotated[str, "its serial"]
    shipped: Annotated[str, "to whom and when, in words; empty while it is here"]


@dataclass(frozen=True, slots=True)
class JobPage:
    """A job: what it takes, its plan, its parts."""

    line: Annotated[JobLine, "the job as a line of the list"]
    name: Annotated[str, "job with its revision"]
    is_old: Annotated[bool, "whether there is a newer revision; then nothing can be done here"]
    revisions: Annotated[tuple[RevisionLine, ...], "every revision, the newest first"]
    order: Annotated[JobOrder | None, "what is to be made; None for a job that is only a name"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it"]
    facts: Annotated[tuple[Fact, ...], "what the job takes and what comes out"]
    views: Annotated[tuple[PlanView, ...], "the plan, and the one of another temperature"]
    times: Annotated[tuple[TimesLine, ...], "limits of the systems at these temperatures"]
    stack: Annotated[tuple[StackLine, ...], "the stack from the mould up"]
    steps: Annotated[tuple[SheetLine, ...], "lay-up sequence"]
    steps_problem: Annotated[str, "why there is no sequence; empty if there is one"]
    stock: Annotated[tuple[StockLine, ...], "materials of the plan against the stock"]
    scales: Annotated[tuple[Choice, ...], "scales that can be chosen, the finest first"]
    scale: Annotated[str, "scale the plan is for"]
    temperature: Annotated[str, "temperature as typed"]
    ordered: Annotated[tuple[PlannedCup, ...], "cups of this revision that are planned already"]
    superseded: Annotated[int, "cups of its other revisions that nobody has started"]
    parts: Annotated[tuple[PartLine, ...], "its parts"]
    customers: Annotated[tuple[Choice, ...], "who a part can be shipped to"]
    serial: Annotated[str, "serial as typed"]
    shipping: Annotated[dict[str, str], "part, customer, day and reasons as typed"]
    concerns: Annotated[tuple[str, ...], "what speaks against shipping, in words"]


@dataclass(frozen=True, slots=True)
class CutPiece:
    """One piece on the roll, to scale."""

    name: Annotated[str, "ply it is for; with the number of the strip"]
    length: Annotated[str, "along the roll, with unit"]
    width: Annotated[str, "across the roll, with unit"]
    at: Annotated[str, "how far from the end of the roll it begins, with unit"]
    across: Annotated[str, "how far from the edge of the roll, with unit"]
    x: Annotated[float, "distance from the end of the roll, units of the drawing"]
    y: Annotated[float, "distance from its edge, units of the drawing"]
    drawn_length: Annotated[float, "along the roll, units of the drawing"]
    drawn_width: Annotated[float, "across the roll, units of the drawing"]


@dataclass(frozen=True, slots=True)
class ClothSection:
    """One cloth of the cutting list."""

    cloth: Annotated[str, "its code"]
    said: Annotated[str, "its card in words; empty if it has none"]
    problem: Annotated[str, "why it cannot be cut and what to do, in words; empty if it can"]
    facts: Annotated[tuple[Fact, ...], "length used, its lower bound, mass"]
    pieces: Annotated[tuple[CutPiece, ...], "pieces in their places"]
    drawn_length: Annotated[float, "roll used, units of the drawing"]
    drawn_width: Annotated[float, "width of the roll, units of the drawing"]


@dataclass(frozen=True, slots=True)
class CuttingPage:
    """The cutting list of a job."""

    line: Annotated[JobLine, "the job as a line of the list"]
    overlap: Annotated[str, "overlap of strips, mm, as typed; empty for no strips"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it"]
    cloths: Annotated[tuple[ClothSection, ...], "one section per cloth"]


@dataclass(frozen=True, slots=True)
class LayUpPage:
    """The lay-up sheet to print."""

    scale: Annotated[str, "scale asked for; likewise the temperature, for the way to the PDF"]
    temperature: Annotated[str, "temperature as typed; empty for those of the sheets"]
    line: Annotated[JobLine, "the job as a line of the list"]
    name: Annotated[str, "job with its revision"]
    steps: Annotated[tuple[SheetLine, ...], "steps in their order"]
    cups: Annotated[tuple[PlanCupLine, ...], "cups ordered, else those of the plan"]
    standing: Annotated[str, "whether these cups are ordered, in words"]
    weighed_on: Annotated[str, "scale with its step, in words; empty without a scale"]
    warmth: Annotated[str, "at which temperature times and plan hold, in words"]
    cautions: Annotated[tuple[str, ...], "what must be said beside it, in words"]
