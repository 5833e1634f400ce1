"""What the chemistry says of a mix ratio: a check of a system card, never its source.

Formulated hardeners are adducts and accelerated blends, so the data sheet's ratio always wins over
a computed one; a card that is far from it is asked about.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from .errors import OutOfRange, require_positive

# Mass of the epoxide group C2H3O, g/mol; IUPAC 2021 abridged atomic weights (from memory).
EPOXIDE_GROUP_G_MOL = 43.045
# Departure of a card's ratio from the computed one worth a question; common practice, no source.
DEPARTURE_TO_ASK = 0.15


@dataclass(frozen=True, slots=True)
class BlendPart:
    """One part of a blend.

    :ivar mass_g: its mass, or its share of any total, > 0.
    :ivar equivalent_g: grams per equivalent; None for what does not react.
    """

    mass_g: float
    equivalent_g: float | None


def equivalent_weight_g(molar_mass_g: float, groups: int) -> float:
    """Grams that carry one mole of reacting groups: epoxides, or hydrogens on nitrogen.

    :param molar_mass_g: g/mol, > 0.
    :param groups: epoxide groups, or N-H hydrogens (not nitrogens), 1 or more.
    :raises OutOfRange: a mass or a count that is none.
    :source: definition; ST-01 to ST-08 in tests/cases/stoichiometry.json.
    """
    require_positive("molar_mass_g", molar_mass_g)
    if groups < 1:
        raise OutOfRange("groups", groups, "1 or more")
    return molar_mass_g / groups


def epoxide_equivalent_g(epoxide_pct: float) -> float:
    """Epoxide equivalent weight of a resin whose sheet gives its epoxide content.

    :param epoxide_pct: epoxide groups C2H3O, % by mass, > 0 and at most 100.
    :raises OutOfRange: outside of that.
    :source: definition; ISO 3001 names the titration (from memory).
    """
    require_positive("epoxide_pct", epoxide_pct)
    if epoxide_pct > 100:
        raise OutOfRange("epoxide_pct", epoxide_pct, "above 0 and at most 100")
    return 100 * EPOXIDE_GROUP_G_MOL / epoxide_pct


def blended_equivalent_g(parts: Sequence[BlendPart]) -> float:
    """Equivalent weight of a blend: masses add, and equivalents add.

    :raises OutOfRange: no part reacts, or a mass or an equivalent weight is none.
    :source: mole balance; ST-12, ST-13, ST-15.
    """
    mass_g = equivalents = 0.0
    for part in parts:
        require_positive("mass_g", part.mass_g)
        mass_g += part.mass_g
        if part.equivalent_g is not None:
            require_positive("equivalent_g", part.equivalent_g)
            equivalents += part.mass_g / part.equivalent_g
    if not equivalents:
        raise OutOfRange("parts", len(parts), "at least one part that reacts")
    return mass_g / equivalents


def stoichiometric_pbw(hardener_equivalent_g: float, resin_equivalent_g: float) -> float:
    """Parts hardener per 100 parts resin by mass, one hydrogen for each epoxide.

    :param hardener_equivalent_g: amine hydrogen equivalent weight, g, > 0.
    :param resin_equivalent_g: epoxide equivalent weight, g, > 0.
    :raises OutOfRange: one of them is not above zero.
    :source: mole balance; ST-09 (handbook text) and ST-10.
    """
    require_positive("hardener_equivalent_g", hardener_equivalent_g)
    require_positive("resin_equivalent_g", resin_equivalent_g)
    return 100 * hardener_equivalent_g / resin_equivalent_g


def departure(part_b_pbw: float, computed_pbw: float) -> float:
    """How far a card's ratio is from the computed one, 1; + where the card has more hardener.

    :raises OutOfRange: one of them is not above zero.
    """
    require_positive("part_b_pbw", part_b_pbw)
    require_positive("computed_pbw", computed_pbw)
    return part_b_pbw / computed_pbw - 1


def mass_ratio_of_volumes(
    ratio_by_volume: float, part_a_g_cm3: float, part_b_g_cm3: float
) -> float:
    """Ratio by mass of a system whose sheet gives its ratio by volume.

    :param ratio_by_volume: part B per part A by volume, > 0.
    :param part_a_g_cm3: density of part A, > 0; of part B likewise.
    :return: part B per part A by mass, g/g.
    :raises OutOfRange: one of them is missing or not above zero: a ratio by volume says nothing of
        masses without both densities.
    :source: definition of density; ST-17 (2:1 by volume is 100:41.8 by mass, not 100:50).
    """
    for name, value in (
        ("ratio_by_volume", ratio_by_volume),
        ("part_a_g_cm3", part_a_g_cm3),
        ("part_b_g_cm3", part_b_g_cm3),
    ):
        if not isfinite(value):
            raise OutOfRange(name, value, "a number above 0")
        require_positive(name, value)
    return ratio_by_volume * part_b_g_cm3 / part_a_g_cm3
