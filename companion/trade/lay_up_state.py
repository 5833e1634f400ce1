"""The state of a lay-up sheet, folded from its rows."""

from dataclasses import dataclass
from enum import StrEnum

from .cards import ReleaseAgent, SystemCard
from .steps import Step


class State(StrEnum):
    """Where a step stands."""

    LOCKED = "locked"
    WAITING = "waiting"
    READY = "ready"
    RUNNING = "running"
    DONE = "done"
    LATE = "late"


class Bond(StrEnum):
    """How a layer holds on the one below: by itself, or because it was prepared."""

    PRIMARY = "primary"
    SECONDARY = "secondary"


@dataclass(frozen=True, slots=True)
class SheetCards:
    """Cards the clocks come from; of several revisions the newest counts."""

    systems: tuple[SystemCard, ...] = ()
    release_agents: tuple[ReleaseAgent, ...] = ()


@dataclass(frozen=True, slots=True)
class StepState:
    """A step and what became of it. Times RFC 3339, empty where there is none.

    :ivar reason: locked: the name of the step that comes first; else one word, empty if there is
        nothing to say: ``clock``, ``not_yet``, ``too_late``, ``window_past``, ``too_old``,
        ``secondary_bond``, ``not_prepared``, ``before_clock``, ``not_on_card``, ``no_window``,
        ``done_late``, ``clock_unsure``, ``not_wet``.
    :ivar bond: of a ply: ``primary``, ``secondary``; empty where nothing says which.
    :ivar notes: what was written at it, the preparation first.
    :ivar row_id: event id of the row that says it is done, or was begun; empty if neither.
    :ivar coldest_c: temperature ``opens_at`` was counted at; None for the sheet's own figure.
    :ivar warmest_c: the same for ``closes_at``.
    :ivar full_at: of cure and demoulding: from when the part has fully cured.
    """

    step: Step
    state: State
    reason: str = ""
    started_at: str = ""
    done_at: str = ""
    opens_at: str = ""
    closes_at: str = ""
    bond: str = ""
    person: str = ""
    notes: tuple[str, ...] = ()
    row_id: str = ""
    coldest_c: float | None = None
    warmest_c: float | None = None
    full_at: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The steps of one job as they stand.

    :ivar current: name of the step that is next or runs; empty when all is done.
    :ivar limit_at: the next moment at which something opens or closes; empty if there is none.
    """

    steps: tuple[StepState, ...]
    current: str
    limit_at: str
