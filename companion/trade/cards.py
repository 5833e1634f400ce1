"""Cards: what the shop knows about a system, a scale, a cup type, a lot, a container, a job.

Cards are numbered revisions, never overwritten; a cup keeps its revision to the end.
"""

from dataclasses import dataclass, field

from .errors import OutOfRange, require_positive
from .job_order import JobOrder
from .numbers import is_wire_number
from .ratio import effective_ratio, mass_ratio, require_tolerance


@dataclass(frozen=True, slots=True)
class PotLife:
    """Pot life of the data sheet: minutes, for this mass of mix, at this temperature."""

    minutes: float
    test_mass_g: float
    temperature_c: float


@dataclass(frozen=True, slots=True)
class TackWindow:
    """When the next layer bonds by itself: from and until, after a coat of this system ended."""

    opens_min: float
    closes_min: float
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Cure:
    """Times from the last pour until the part leaves the mould, and until it has fully cured."""

    demould_min: float
    full_min: float | None
    temperature_c: float


@dataclass(frozen=True, slots=True)
class VolumeRatio:
    """A ratio by volume as the sheet prints it; without both densities it is no ratio by mass."""

    part_b_pbv: float
    density_a_g_cm3: float
    density_b_g_cm3: float


@dataclass(frozen=True, slots=True)
class SystemCard:
    """One resin with one hardener. A figure that is not on the data sheet stays None."""

    code: str
    revision: int
    resin: str
    hardener: str
    #: the word a person says for this hardener (SLOW, FAST).
    hardener_word: str
    #: parts B per 100 parts A by mass, clean resin.
    part_b_pbw: float
    tolerance_pct: float
    largest_cup_g: float
    filler_fraction_a: float = 0.0
    pot_life: PotLife | None = None
    mix_min: float | None = None
    mixed_density_g_cm3: float | None = None
    #: where each figure comes from, field name -> source line.
    sources: dict[str, str] = field(default_factory=dict)
    #: pot life at further temperatures, for the same test mass.
    more_pot_life: tuple[PotLife, ...] = ()
    tack: TackWindow | None = None
    cure: Cure | None = None
    #: coldest the sheet lets one work, degrees Celsius.
    minimum_c: float | None = None
    #: the ratio as the sheet prints it, where it prints volumes; ``part_b_pbw`` follows from it.
    by_volume: VolumeRatio | None = None
    #: equivalent weights of part A and part B, g/eq, for the check of the ratio.
    eew_g_eq: float | None = None
    ahew_g_eq: float | None = None

    def __post_init__(self) -> None:
        """Refuse figures no cup could be weighed with.

        :raises OutOfRange: ratio, tolerance, largest cup or filler are out of range.
        """
        if not self.code:
            raise OutOfRange("code", self.code, "a name for the system")
        require_positive("part_b_pbw", self.part_b_pbw)
        require_positive("largest_cup_g", self.largest_cup_g)
        require_tolerance(self.tolerance_pct / 100)
        effective_ratio(1.0, self.filler_fraction_a)

    @property
    def name(self) -> str:
        """Name with revision, as it stands in the log: ``RES-L+HRD-S@3``."""
        return f"{self.code}@{self.revision}"

    @property
    def ratio(self) -> float:
        """Parts B per part A as weighed (filler counted), g/g."""
        return effective_ratio(mass_ratio(self.part_b_pbw), self.filler_fraction_a)

    @property
    def tolerance(self) -> float:
        """Allowed ratio error either way, 1."""
        return self.tolerance_pct / 100


@dataclass(frozen=True, slots=True)
class ScaleCard:
    """One scale: display step, capacity, and the repeatability found when it was checked."""

    code: str
    revision: int
    #: display step as printed on the scale, grams; its decimals are those of the display.
    readability: str
    capacity_g: float
    auto_off_s: float | None = None
    repeatability_g: float | None = None

    def __post_init__(self) -> None:
        """Refuse a scale whose step or capacity is not above zero.

        :raises OutOfRange: readability or capacity are not numbers above zero.
        """
        # Written as the log writes figures: its decimals are counted, and the phone reads it too.
        if not is_wire_number(self.readability):
            raise OutOfRange("readability", self.readability, "a number above 0, such as 0.1")
        require_positive("readability", self.readability_g)
        require_positive("capacity_g", self.capacity_g)

    @property
    def name(self) -> str:
        """Code with revision, as it stands in the log: ``S1@1``."""
        return f"{self.code}@{self.revision}"

    @property
    def readability_g(self) -> float:
        """Display step, grams."""
        return float(self.readability)

    @property
    def decimals(self) -> int:
        """Digits the display shows after its point."""
        return len(self.readability.partition(".")[2])


@dataclass(frozen=True, slots=True)
class CupType:
    """An empty cup as bought: mass, volume and what it is made of."""

    code: str
    revision: int
    mass_g: float
    volume_ml: float
    material: str


@dataclass(frozen=True, slots=True)
class Lot:
    """A maker's production quantity of one material; dates are ISO 8601 days, expiry inclusive."""

    code: str
    revision: int
    material: str
    expires_on: str = ""
    quarantined: bool = False
    #: why it is, where it is in quarantine.
    quarantine_reason: str = ""


@dataclass(frozen=True, slots=True)
class Container:
    """Our one opened can of a lot."""

    code: str
    revision: int
    material: str
    lot: str
    opened_on: str = ""
    #: mass of the content when it was opened, grams; None if nobody weighed it.
    content_g: float | None = None
    #: mass of the empty can, grams; without it a weighed can tells no rest.
    empty_g: float | None = None
    #: why its lot was changed, where cups had drawn from it.
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Cloth:
    """A cloth as bought on the roll.

    :ivar usable_width_m: of the roll, without its selvedges.
    """

    code: str
    revision: int
    fibre: str
    areal_weight_g_m2: float
    fibre_density_g_cm3: float
    usable_width_m: float
    sources: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ReleaseAgent:
    """A release agent: how many coats, how long between them, and before the lay-up.

    :ivar too_old_min: after the last coat, from when on the film is too old; None if not said.
    """

    code: str
    revision: int
    coats: int
    between_min: float | None = None
    last_min: float | None = None
    too_old_min: float | None = None
    sources: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Additive:
    """A paste or filler, in per cent of part A, never more than its cap."""

    code: str
    revision: int
    description: str
    cap_pct: float
    sources: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse a code the log has for something else: an additive stands there by its code.

        :raises OutOfRange: the code is empty, or that of part A, part B or the empty cup.
        """
        if self.code in ("", "a", "b", "cup"):
            raise OutOfRange("code", self.code, "a name for the additive other than a, b and cup")


@dataclass(frozen=True, slots=True)
class Job:
    """Work on one part.

    :ivar order: what is to be made; None for a job that is only a name.
    :ivar customer: code of the customer; empty if none.
    """

    code: str
    revision: int
    part: str
    order: JobOrder | None = None
    customer: str = ""

    @property
    def name(self) -> str:
        """Job with revision, as it stands in the log: ``14@2``."""
        return f"{self.code}@{self.revision}"
