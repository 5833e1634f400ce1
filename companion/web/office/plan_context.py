"""What the pages of planning single cups are given, with a help text per field."""

from dataclasses import dataclass
from typing import Annotated

from ...trade.judgement import Judgement
from ...trade.order import Order
from .context import Choice, PlannedLine


@dataclass(frozen=True, slots=True)
class SystemJudgements:
    """What the scales of the shop can judge of one system."""

    system: Annotated[str, "system with its revision"]
    largest_cup_g: Annotated[str, "its largest cup, grams, text"]
    tolerance_pct: Annotated[str, "its tolerance, per cent, text"]
    scales: Annotated[tuple[Judgement, ...], "per scale, the finest first"]


@dataclass(frozen=True, slots=True)
class PlanPage:
    """The plan form."""

    mark: Annotated[str, "mark of the form, so that a second click plans nothing more"]
    order: Annotated[Order, "what stands in the fields"]
    errors: Annotated[dict[str, str], "field -> what is wrong with it, in the order of the form"]
    systems: Annotated[tuple[Choice, ...], "newest systems"]
    jobs: Annotated[tuple[Choice, ...], "newest jobs"]
    cup_types: Annotated[tuple[Choice, ...], "newest cup types"]
    additives: Annotated[tuple[Choice, ...], "newest pastes; empty where none is on record"]
    cautions: Annotated[tuple[str, ...], "what must be said of the cups asked for, in words"]
    judgements: Annotated[tuple[SystemJudgements, ...], "what each scale can judge, per system"]


@dataclass(frozen=True, slots=True)
class PlannedPage:
    """Confirmation: the cups that were planned at one moment."""

    planned: Annotated[tuple[PlannedLine, ...], "the new cups"]
    again: Annotated[bool, "whether the form was sent a second time, which planned no more"]
    in_part: Annotated[Judgement | None, "finest scale, where it proves a cup only in part"]
    cautions: Annotated[tuple[str, ...], "what must be said of these cups, in words"]
