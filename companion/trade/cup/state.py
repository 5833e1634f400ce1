"""The state of a cup, folded from its rows."""

from dataclasses import dataclass
from enum import StrEnum

from ..weighing import Pour, Verdict


class CupState(StrEnum):
    """Where a cup stands on its way."""

    STARTED = "started"
    EMPTY_READ = "empty_read"
    A_WAITING = "a_waiting"
    B_OPEN = "b_open"
    JUDGED = "judged"
    MIXING = "mixing"
    MIXED = "mixed"
    IN_USE = "in_use"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class LotUse:
    """A container whose content went into the cup."""

    component: str
    lot: str
    container: str
    event_id: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Use:
    """A step of a job the cup was poured into."""

    job: str
    step: str
    at: str


@dataclass(frozen=True, slots=True)
class Cup:
    """One mix in one labelled cup. Masses in grams, errors as plain numbers.

    ``unknown`` names why no verdict is possible; empty if the readings are whole. ``flags`` name
    what a person should look at.
    """

    id: str
    code: str
    system: str
    scale: str
    person: str
    job: str
    step: str
    started_at: str
    planned_total_g: float | None
    state: CupState
    cup_g: float | None
    display_g: float | None
    #: whether the next pour starts on a reading of its own (after a re-zero).
    opens: bool
    pours: tuple[Pour, ...]
    part_a_g: float
    part_b_g: float
    total_g: float
    ratio_error: float | None
    uncertainty: float | None
    verdict: Verdict | None
    unknown: str
    corrections: int
    lots: tuple[LotUse, ...]
    first_contact_at: str
    mix_started_at: str
    mixed_at: str
    felt_warm: bool
    uses: tuple[Use, ...]
    leftover_g: float | None
    deviation: str
    #: reason under which it goes on past its pot life, if one was written.
    pot_life_reason: str
    ending: str
    flags: tuple[str, ...]
    #: the last reading of the display, to refer to when it is read again.
    last_reading_id: str
    last_reading_component: str
    last_event_id: str

    @property
    def usable(self) -> bool:
        """Whether the cup may go into a part: mixed, and in tolerance or let pass in writing.

        What is let pass is a verdict: where there is none, no reason makes the cup usable.
        """
        is_mixed = self.state in (CupState.MIXED, CupState.IN_USE)
        if not is_mixed or self.unknown or self.verdict is None:
            return False
        return self.verdict in (Verdict.IN, Verdict.IN_UNPROVEN) or bool(self.deviation)
