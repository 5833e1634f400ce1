"""What is to be made: area, plies, coat and systems, as a job says them."""

from dataclasses import dataclass, replace

from .errors import OutOfRange

#: Layers a job may have, and one ply of it.
MOST_LAYERS = 200


@dataclass(frozen=True, slots=True)
class PlyOrder:
    """Layers of one cloth in a job; what it does not say holds for the whole job.

    :ivar angle_deg: of the warp to the length of the piece, -90 to 90.
    :ivar length_m: of the piece to be cut, without margin; likewise its width.
    """

    cloth: str
    areal_weight_g_m2: float
    layers: int = 1
    resin_mass_fraction: float | None = None
    fibre_density_g_cm3: float | None = None
    angle_deg: float = 0.0
    length_m: float | None = None
    width_m: float | None = None


@dataclass(frozen=True, slots=True)
class CoatOrder:
    """A surface coat under the plies.

    :ivar additive: code of a paste in its part A; empty if none.
    :ivar additive_pct: of part A, %.
    """

    system: str
    coat_g_m2: float
    tools_g: float = 0.0
    additive: str = ""
    additive_pct: float = 0.0


@dataclass(frozen=True, slots=True)
class JobOrder:
    """What is to be made.

    :ivar cups: laminate cups asked for; None takes as few as may be.
    :ivar least_cup_g: no cup of the job is mixed smaller; what is beyond the need is left over.
    :ivar release_agent: code of the card; empty where the mould needs none.
    :ivar length_m: of the pieces of plies that do not say theirs; likewise the width.
    :ivar cut_margin_m: on every side of a piece.
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
    least_cup_g: float = 0.0
    release_agent: str = ""
    length_m: float | None = None
    width_m: float | None = None
    cut_margin_m: float = 0.0


def layer_by_layer(order: JobOrder) -> JobOrder:
    """The same job with every layer a ply of its own: what is laid down one at a time.

    :raises OutOfRange: a ply without layers, or more layers than a job may have.
    """
    for ply in order.plies:
        if not 1 <= ply.layers <= MOST_LAYERS:
            raise OutOfRange("layers", ply.layers, f"1 to {MOST_LAYERS}")
    count = sum(ply.layers for ply in order.plies)
    if not 1 <= count <= MOST_LAYERS:
        raise OutOfRange("plies", count, f"1 to {MOST_LAYERS}")
    plies = tuple(replace(ply, layers=1) for ply in order.plies for _ in range(ply.layers))
    return replace(order, plies=plies)
