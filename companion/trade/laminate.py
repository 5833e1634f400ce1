"""From cloth to resin: how much a stack of plies takes, how thick and how rich in fibre it gets.

Fibre content is by mass unless the name says volume: half by mass is a third by volume for glass.
Formulas hold without voids unless a void fraction is given; densities are those of cured resin.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from .constants import GRAMS_PER_OUNCE
from .errors import OutOfRange, require_positive

# Exact by definition of the yard and the foot, metres.
_YARD_M, _FOOT_M = 0.9144, 0.3048
# Fibre content by mass that a stack can have; outside of it something was mistyped.
_LEAST_CONTENT, _MOST_CONTENT = 0.05, 0.95


@dataclass(frozen=True, slots=True)
class Ply:
    """Layers of one cloth.

    :ivar areal_weight_g_m2: dry cloth, > 0.
    :ivar fibre_mass_fraction: fibre by mass in these layers once wetted, 1.
    :ivar fibre_density_g_cm3: of the fibre itself, > 0.
    :ivar layers: how often it is laid, 1 or more.
    """

    areal_weight_g_m2: float
    fibre_mass_fraction: float
    fibre_density_g_cm3: float
    layers: int = 1


def require_content(field: str, fraction: float) -> None:
    """Refuse a content by mass that no laminate has.

    :raises OutOfRange: below 0.05 or above 0.95.
    """
    if not _LEAST_CONTENT <= fraction <= _MOST_CONTENT:
        raise OutOfRange(field, fraction, f"{_LEAST_CONTENT} to {_MOST_CONTENT}")


def require_ply(ply: Ply) -> None:
    """Refuse a ply that cannot be laid.

    :raises OutOfRange: areal weight, density, content or layers are out of range.
    """
    require_positive("areal_weight_g_m2", ply.areal_weight_g_m2)
    require_positive("fibre_density_g_cm3", ply.fibre_density_g_cm3)
    require_content("fibre_mass_fraction", ply.fibre_mass_fraction)
    if ply.layers < 1:
        raise OutOfRange("layers", ply.layers, "1 or more")


def fibre_g(plies: Sequence[Ply], area_m2: float) -> float:
    """Mass of dry cloth in a part.

    :raises OutOfRange: a ply that cannot be laid, or an area not above zero.
    """
    require_positive("area_m2", area_m2)
    for ply in plies:
        require_ply(ply)
    return area_m2 * sum(ply.areal_weight_g_m2 * ply.layers for ply in plies)


def resin_g(ply: Ply, area_m2: float) -> float:
    """Resin that one ply takes, all its layers together.

    :param area_m2: > 0.
    :return: grams, unrounded.
    :raises OutOfRange: a ply that cannot be laid, or an area not above zero.
    :source: definition of the fibre mass fraction; LM-01, LM-02.
    """
    return fibre_g([ply], area_m2) * (1 - ply.fibre_mass_fraction) / ply.fibre_mass_fraction


def stack_fibre_mass_fraction(plies: Sequence[Ply]) -> float:
    """Fibre by mass of a whole stack, 1.

    :raises OutOfRange: a ply that cannot be laid, or no ply.
    :source: ISO 12215-5:2008 C.3.2 (through code that cites it); LM-23.
    """
    if not plies:
        raise OutOfRange("plies", 0, "1 or more")
    dry_g = fibre_g(plies, 1.0)
    return dry_g / (dry_g + sum(resin_g(ply, 1.0) for ply in plies))


def fibre_volume_fraction(plies: Sequence[Ply], resin_density_g_cm3: float) -> float:
    """Fibre by volume of a whole stack without voids, 1.

    :raises OutOfRange: a ply that cannot be laid, no ply, or a density not above zero.
    :source: rule of mixtures; LM-06, LM-07, LM-08.
    """
    fibre_cm3, resin_cm3 = _volumes_cm3_m2(plies, resin_density_g_cm3)
    return fibre_cm3 / (fibre_cm3 + resin_cm3)


def thickness_mm(
    plies: Sequence[Ply], resin_density_g_cm3: float, void_fraction: float = 0.0
) -> float:
    """Thickness of a stack.

    :param void_fraction: share of the volume that is air, 0 or more and below 1.
    :raises OutOfRange: a ply that cannot be laid, no ply, or a figure out of range.
    :source: rule of mixtures; equal to ISO 12215-5:2008 Annex C for its densities: LM-11 to LM-14.
    """
    if not 0 <= void_fraction < 1:
        raise OutOfRange("void_fraction", void_fraction, "0 or more and below 1")
    # A cubic centimetre on a square metre is a thousandth of a millimetre.
    return sum(_volumes_cm3_m2(plies, resin_density_g_cm3)) / 1000 / (1 - void_fraction)


def _volumes_cm3_m2(plies: Sequence[Ply], resin_density_g_cm3: float) -> tuple[float, float]:
    require_positive("resin_density_g_cm3", resin_density_g_cm3)
    if not plies:
        raise OutOfRange("plies", 0, "1 or more")
    fibre_cm3 = sum(fibre_g([ply], 1.0) / ply.fibre_density_g_cm3 for ply in plies)
    return fibre_cm3, sum(resin_g(ply, 1.0) for ply in plies) / resin_density_g_cm3


def laminate_density_g_cm3(plies: Sequence[Ply], resin_density_g_cm3: float) -> float:
    """Density of a stack without voids.

    :raises OutOfRange: a ply that cannot be laid, no ply, or a density not above zero.
    :source: rule of mixtures; LM-19 (the mean of densities by mass, 1.855, is wrong).
    """
    fibre_cm3, resin_cm3 = _volumes_cm3_m2(plies, resin_density_g_cm3)
    mass_g = fibre_g(plies, 1.0) + sum(resin_g(ply, 1.0) for ply in plies)
    return mass_g / (fibre_cm3 + resin_cm3)


def fibre_mass_fraction_of_volume(
    fibre_by_volume: float, fibre_density_g_cm3: float, resin_density_g_cm3: float
) -> float:
    """Fibre by mass of a laminate whose fibre by volume is known, 1.

    :raises OutOfRange: a fraction not between 0 and 1, or a density not above zero.
    :source: rule of mixtures; LM-10.
    """
    if not 0 < fibre_by_volume < 1:
        raise OutOfRange("fibre_by_volume", fibre_by_volume, "between 0 and 1")
    require_positive("fibre_density_g_cm3", fibre_density_g_cm3)
    require_positive("resin_density_g_cm3", resin_density_g_cm3)
    fibre = fibre_by_volume * fibre_density_g_cm3
    return fibre / (fibre + (1 - fibre_by_volume) * resin_density_g_cm3)


def fibre_mass_fraction_of_parts(resin_per_fibre: float) -> float:
    """Fibre by mass where the resin is told as parts per part of fibre, 1.

    :param resin_per_fibre: parts resin to one part fibre by mass, 0 or more.
    :raises OutOfRange: below zero.
    :source: definition; LM-04 ("2.5:1" is 28.6 %, not 30 %).
    """
    if not 0 <= resin_per_fibre < float("inf"):
        raise OutOfRange("resin_per_fibre", resin_per_fibre, "0 or more")
    return 1 / (1 + resin_per_fibre)


def achieved_fibre_mass_fraction(dry_fibre_g: float, part_g: float) -> float:
    """Fibre by mass of the part that came out, trimmed and without coats, 1.

    :raises OutOfRange: a mass not above zero, or a part lighter than its cloth.
    :source: definition; LM-26.
    """
    require_positive("dry_fibre_g", dry_fibre_g)
    if not dry_fibre_g <= part_g < float("inf"):
        raise OutOfRange("part_g", part_g, f"{dry_fibre_g:g}, the mass of its cloth, or more")
    return dry_fibre_g / part_g


def coat_g_m2(coat_mm: float, density_g_cm3: float) -> float:
    """Surface coat by its wet thickness.

    :raises OutOfRange: a figure not above zero.
    :source: definition; LM-27.
    """
    require_positive("coat_mm", coat_mm)
    require_positive("density_g_cm3", density_g_cm3)
    return 1000 * coat_mm * density_g_cm3


def areal_weight_of_ounces_g_m2(ounces: float, per_square: str) -> float:
    """Areal weight told in ounces: woven cloth per square yard, chopped mat often per square foot.

    :param per_square: ``yd`` or ``ft``.
    :raises OutOfRange: not above zero, or another square.
    :source: exact definitions (library pint); LM-29.
    """
    require_positive("ounces", ounces)
    sides_m = {"yd": _YARD_M, "ft": _FOOT_M}
    if per_square not in sides_m:
        raise OutOfRange("per_square", per_square, "yd or ft")
    return ounces * GRAMS_PER_OUNCE / sides_m[per_square] ** 2
