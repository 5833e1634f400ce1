"""What the pages of materials and their cards are given, with a help text per field."""

from dataclasses import dataclass
from typing import Annotated

from ...trade.judgement import Judgement
from ...wire.people_csv import Cell, Moment
from .context import Choice, Fact


@dataclass(frozen=True, slots=True)
class Spec:
    """One field of a form, in the reader's words."""

    name: Annotated[str, "what is sent"]
    label: Annotated[str, "what it is called"]
    help: Annotated[str, "what is allowed or meant; empty if nothing needs saying"] = ""
    kind: Annotated[str, "decimal, numeric, text, day, tick, choice or suggested"] = "decimal"
    source: Annotated[str, "figure whose source is asked below it; empty if none"] = ""
    source_of: Annotated[str, "that figure in words, where it is not the label"] = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Fields that belong together."""

    heading: Annotated[str, "heading above them; empty for none"]
    fields: Annotated[tuple[Spec, ...], "the fields in the order of the form"]
    note: Annotated[str, "what holds for all of them; empty if nothing"] = ""


@dataclass(frozen=True, slots=True)
class FieldLine:
    """One field as it is shown."""

    spec: Annotated[Spec, "what it is"]
    value: Annotated[str, "what stands in it"]
    error: Annotated[str, "what is wrong with it; empty if nothing"]
    choices: Annotated[tuple[Choice, ...], "what can be chosen or is suggested"]


@dataclass(frozen=True, slots=True)
class FormSection:
    """Fields that belong together, as they are shown."""

    heading: Annotated[str, "heading above them; empty for none"]
    note: Annotated[str, "what holds for all of them; empty if nothing"]
    lines: Annotated[tuple[FieldLine, ...], "the fields"]


@dataclass(frozen=True, slots=True)
class CardFormPage:
    """Entering a card, or changing it into its next revision."""

    kind: Annotated[str, "kind of card, as in its address"]
    mark: Annotated[str, "mark of the form, so that a second click makes no second can"]
    title: Annotated[str, "what is being done, in words"]
    code: Annotated[str, "card that is changed; empty for a new one"]
    revision: Annotated[int, "revision the form was opened at; 0 for a new card"]
    sections: Annotated[tuple[FormSection, ...], "the fields"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it, in the order of the form"]


@dataclass(frozen=True, slots=True)
class CardFact:
    """One figure of a card, and where it comes from."""

    term: Annotated[str, "what it is, in words"]
    text: Annotated[str, "the figure or text; says so where it is not on the sheet"]
    source: Annotated[str, "where it comes from; empty if not said"]


@dataclass(frozen=True, slots=True)
class FactSection:
    """Figures of a card that belong together."""

    heading: Annotated[str, "heading above them; empty for none"]
    facts: Annotated[tuple[CardFact, ...], "the figures"]


@dataclass(frozen=True, slots=True)
class RevisionLine:
    """One revision of a card."""

    revision: Annotated[int, "its number"]
    made_at: Annotated[str, "when it was made, RFC 3339"]
    shown: Annotated[bool, "whether it is the one that is looked at"]


@dataclass(frozen=True, slots=True)
class WeighingLine:
    """One weighing of a can."""

    at: Annotated[str, "when, RFC 3339"]
    offset_min: Annotated[str, "offset from UTC it was written with, minutes"]
    gross: Annotated[str, "can with lid and content as recorded, grams"]
    person: Annotated[str, "who weighed it"]
    struck: Annotated[str, "by whom and why it was struck, in words; empty if it stands"]


@dataclass(frozen=True, slots=True)
class CanWeighing:
    """The weighings of a can, the form of the next one, and that of striking one."""

    typed: Annotated[dict[str, str], "what stands in its fields"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it"]
    labels: Annotated[dict[str, str], "field -> what it is called"]
    people: Annotated[tuple[Choice, ...], "who can have weighed it"]
    lines: Annotated[tuple[WeighingLine, ...], "every weighing, the oldest first"]
    standing: Annotated[tuple[Choice, ...], "weighings that can be struck"]


@dataclass(frozen=True, slots=True)
class CardPage:
    """One revision of a card."""

    kind: Annotated[str, "kind of card, as in its address"]
    kind_words: Annotated[str, "kind of card, in words"]
    code: Annotated[str, "name of the card"]
    revision: Annotated[int, "revision that is shown"]
    newest: Annotated[int, "newest revision"]
    sections: Annotated[tuple[FactSection, ...], "its figures"]
    cautions: Annotated[tuple[str, ...], "what to compare with the data sheet again, in words"]
    outdated: Annotated[int, "cups that wait, planned by an older revision of this system"]
    stock: Annotated[tuple[Fact, ...], "what is left of it, where it is a can"]
    judgements: Annotated[tuple[Judgement, ...], "what each scale can judge, where it is a system"]
    revisions: Annotated[tuple[RevisionLine, ...], "every revision, the newest first"]
    saved: Annotated[str, "what was just done, in words; empty if nothing"]
    weighing: Annotated[CanWeighing | None, "form of weighing it, where it is a can"]


@dataclass(frozen=True, slots=True)
class CardLine:
    """One card, or one material, as a line of a table."""

    code: Annotated[str | Moment, "name of the card or material; when, where it is an event"]
    revision: Annotated[int, "its revision; 0 where it has none"]
    cells: Annotated[tuple[Cell, ...], "one per further column"]


@dataclass(frozen=True, slots=True)
class CardTable:
    """One list of the materials page."""

    kind: Annotated[str, "kind of card, as in its address; stock for the materials"]
    title: Annotated[str, "what is listed, in words"]
    caption: Annotated[str, "what holds for all lines"]
    new: Annotated[str, "words that lead to the form of a new one; empty if there is none"]
    headings: Annotated[tuple[str, ...], "heading of each column, the name first"]
    lines: Annotated[tuple[CardLine, ...], "the newest revision of each"]
    look: Annotated[int, "place among the cells that says what to look at; -1 for none"] = -1


@dataclass(frozen=True, slots=True)
class MaterialsPage:
    """Everything that is bought, and what is left of it."""

    tables: Annotated[tuple[CardTable, ...], "the lists, stock first"]
