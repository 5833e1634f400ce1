"""What is to be made: area, plies, coat and systems, as a job says them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PlyOrder:
    """Layers of one cloth in a job; what it does not say holds for the whole job."""

    cloth: str
    areal_weight_g_m2: float
    layers: int = 1
    resin_mass_fraction: float | None = None
    fibre_density_g_cm3: float | None = None


@dataclass(frozen=True, slots=True)
class CoatOrder:
    """A surface coat under the plies."""

    system: str
    coat_g_m2: float
    tools_g: float = 0.0


@dataclass(frozen=True, slots=True)
class JobOrder:
    """What is to be made.

    :ivar cups: laminate cups asked for; None takes as few as may be.
    """

    job: str
    part: str
    area_m2: float
    resin_mass_fraction: float
    plies: tuple[PlyOrder, ...]
    system: str
    serial: str = ""
    peel_ply_g_m2: float = 0.0
    tools_g: float = 0.0
    loss_per_cup_g: float = 0.0
    fibre_density_g_cm3: float = 1.8
    resin_density_g_cm3: float = 1.15
    surface_coat: CoatOrder | None = None
    cups: int | None = None
