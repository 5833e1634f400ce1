"""Is this the can the cup needs, and may it be used today?

A can of another system stops the pour. An expired or quarantined lot stops it too, unless a
reason is written.
"""

from dataclasses import dataclass
from enum import StrEnum

from .cards import Container, Lot, SystemCard
from .ratio import hardener_target_g, ratio_error


class CanProblem(StrEnum):
    """Why a container stops the pour."""

    WRONG_MATERIAL = "wrong_material"
    LOT_UNKNOWN = "lot_unknown"
    EXPIRED = "expired"
    QUARANTINED = "quarantined"


#: Problems a written reason may pass; the wrong material never.
REASON_MAY_PASS = frozenset({CanProblem.LOT_UNKNOWN, CanProblem.EXPIRED, CanProblem.QUARANTINED})


def material_wanted(component: str, system: SystemCard) -> str:
    """Material a component of a cup is made of.

    :param component: "a", "b" or the code of a paste.
    :param system: card of the cup.
    :return: code of the material; a paste is its own.
    """
    return {"a": system.resin, "b": system.hardener}.get(component, component)


def can_problem(
    component: str, system: SystemCard, container: Container, lot: Lot | None, today: str
) -> CanProblem | None:
    """Check one container against the cup it is held over.

    :param component: "a", "b" or the code of a paste.
    :param system: card of the cup.
    :param container: the can in the hand.
    :param lot: its lot, None where the shop has no record of it.
    :param today: local day, ISO 8601 (2026-03-07).
    :return: the first problem in order of danger, or None.
    :source: design rule 10; common practice, no source.
    """
    wanted = material_wanted(component, system)
    if container.material != wanted:
        return CanProblem.WRONG_MATERIAL
    if lot is None or lot.material != wanted:
        return CanProblem.LOT_UNKNOWN
    if lot.quarantined:
        return CanProblem.QUARANTINED
    if lot.expires_on and lot.expires_on < today:
        return CanProblem.EXPIRED
    return None


@dataclass(frozen=True, slots=True)
class Swapped:
    """What the wrong hardener makes of a cup, as ratio errors, 1.

    :ivar other_by_this: the other hardener, poured in the amount this cup needs of its own.
    :ivar other_by_other: the amount the other hardener would need, judged by this cup's ratio.
    """

    other_by_this: float
    other_by_other: float


def swapped(part_a_g: float, ratio: float, other_ratio: float) -> Swapped:
    """Ratio errors of a cup into which the wrong hardener goes.

    :param part_a_g: part A in the cup, grams, > 0.
    :param ratio: parts B per part A of the cup's own system, g/g, > 0.
    :param other_ratio: the same of the system the wrong hardener belongs to.
    :raises OutOfRange: a mass or ratio is not above zero.
    :source: ``ratio.ratio_error``; 33.9 g at 100:36 are -16.7 %, 40.7 g at 100:30 +20.0 %.
    """
    return Swapped(
        ratio_error(part_a_g, hardener_target_g(part_a_g, ratio), other_ratio),
        ratio_error(part_a_g, hardener_target_g(part_a_g, other_ratio), ratio),
    )
