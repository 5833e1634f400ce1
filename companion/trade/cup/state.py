"""The state of a cup, folded from its rows."""

from dataclasses import dataclass

from ..weighing import Pour, Verdict
from .progress import CupState


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
class Cover:
    """When something was laid on a waiting cup, or taken off it."""

    at: str
    on: bool


@dataclass(frozen=True, slots=True)
class Cup:
    """One mix in one labelled cup. Masses in grams, errors as plain numbers.

    A share of a divided mix has the verdict and the clocks of that mix and no masses of its own:
    what was poured was poured in the cup that was divided.

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
    #: first reading of part A, and the last one, which may be it read again.
    a_weighed_at: str
    a_read_at: str
    covers: tuple[Cover, ...]
    first_contact_at: str
    mix_started_at: str
    #: when it was scraped half way through mixing.
    scraped_at: str
    mixed_at: str
    #: reason under which it was called mixed before its time.
    mix_reason: str
    felt_warm: bool
    uses: tuple[Use, ...]
    leftover_g: float | None
    deviation: str
    #: reason under which it goes on past its pot life, if one was written.
    pot_life_reason: str
    ending: str
    #: since when its rest is left to set, and where; empty where nothing was left.
    set_at: str
    set_where: str
    disposed_at: str
    #: label of the cup whose mix it is a share of; empty for a cup of its own.
    share_of: str
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
