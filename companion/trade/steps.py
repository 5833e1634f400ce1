"""The lay-up sheet: the steps of one job in their order, as the bench carries them out.

A step's name is what stands in the log, the same in every language; screens have words of their
own for it. Every layer is a ply of its own. What became of the steps, ``trade.lay_up`` folds from
the log.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from .cards import ReleaseAgent
from .errors import OutOfRange
from .job_order import JobOrder, layer_by_layer

#: Kinds of steps, in the order of the work.
KINDS = "mould release surface_coat tack ply peel_ply trim cure demould".split()


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a lay-up sheet.

    :ivar name: as it stands in the log, such as ``ply 3``.
    :ivar number: of the coat or ply, from 1; 0 where there is one only.
    :ivar system: code of the system that is laid on or waited for; empty where none is.
    :ivar cloth: code of the cloth, for a ply.
    :ivar angle_deg: of its warp to the length of the part.
    :ivar release_agent: code of the card, for a coat of it.
    """

    name: str
    kind: str
    number: int = 0
    system: str = ""
    cloth: str = ""
    angle_deg: float = 0.0
    release_agent: str = ""


def steps(order: JobOrder, release_agents: Mapping[str, ReleaseAgent]) -> tuple[Step, ...]:
    """Steps of a job, in their order.

    :param release_agents: cards by code.
    :raises OutOfRange: a release agent no card is known of.
    :source: order of the work, common practice, no source.
    """
    found = [Step("mould", "mould"), *_release(order, release_agents)]
    if order.surface_coat:
        coat = order.surface_coat.system
        found += [Step("surface coat", "surface_coat", system=coat), Step("tack", "tack", 0, coat)]
    found += [
        Step(f"ply {number}", "ply", number, order.system, ply.cloth, ply.angle_deg)
        for number, ply in enumerate(layer_by_layer(order).plies, 1)
    ]
    if order.peel_ply_g_m2 > 0:
        found.append(Step("peel ply", "peel_ply", system=order.system))
    found += [
        Step(kind, kind, system="" if kind == "trim" else order.system)
        for kind in ("trim", "cure", "demould")
    ]
    return tuple(found)


def _release(order: JobOrder, release_agents: Mapping[str, ReleaseAgent]) -> list[Step]:
    code = order.release_agent
    if not code:
        return []
    if code not in release_agents:
        allowed = ", ".join(sorted(release_agents)) or "a release agent on record; none is"
        raise OutOfRange("release_agent", code, allowed)
    coats = range(1, release_agents[code].coats + 1)
    return [Step(f"release {number}", "release", number, release_agent=code) for number in coats]
