"""Is this the can the cup needs, and may it be used today?

A can of another system stops the pour. An expired or quarantined lot stops it too, unless a
reason is written.
"""

from enum import StrEnum

from .cards import Container, Lot, SystemCard


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
