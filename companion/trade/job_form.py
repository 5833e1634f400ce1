"""A job as it stands in a form: every field the text that was typed, and the rows of its plies."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from decimal import Decimal

from .cards import Job
from .job_order import CoatOrder, JobOrder, PlyOrder


@dataclass(frozen=True, slots=True)
class TypedPly:
    """One row of the ply schedule, as typed."""

    cloth: str = ""
    layers: str = "1"
    angle_deg: str = "0"
    resin_pct: str = ""
    length_m: str = ""
    width_m: str = ""


@dataclass(frozen=True, slots=True)
class TypedJob:
    """A job as typed; choices are the code of what was chosen, empty where nothing was."""

    code: str = ""
    part: str = ""
    customer: str = ""
    area_m2: str = ""
    resin_pct: str = ""
    system: str = ""
    coat_system: str = ""
    coat_g_m2: str = ""
    coat_tools_g: str = ""
    additive: str = ""
    additive_pct: str = ""
    release_agent: str = ""
    peel_ply_g_m2: str = ""
    tools_g: str = ""
    loss_per_cup_g: str = ""
    fibre_density_g_cm3: str = "1.8"
    resin_density_g_cm3: str = "1.15"
    length_m: str = ""
    width_m: str = ""
    cut_margin_m: str = ""
    cups: str = ""
    least_cup_g: str = ""
    plies: tuple[TypedPly, ...] = (TypedPly(),)


#: Fields of the form that are not rows, and fields of one row, in the order of the form.
FIELDS = tuple(one.name for one in fields(TypedJob) if one.name != "plies")
PLY_FIELDS = tuple(one.name for one in fields(TypedPly))


def ply_field(number: int, name: str) -> str:
    """Name of a field of a row of the schedule; rows count from 1."""
    return f"plies-{number}-{name}"


def with_rows_changed(typed: TypedJob, change: str, number: int) -> TypedJob:
    """The form with a row added at the end, or one removed or moved; nothing typed is lost.

    :param change: ``add``, ``remove``, ``up`` or ``down``.
    :param number: of the row, from 1; a row that is not there changes nothing.
    """
    rows = list(typed.plies)
    if change == "add":
        return replace(typed, plies=(*rows, _like(rows)))
    place = number - 1
    other = {"up": place - 1, "down": place + 1}.get(change, place)
    if not (0 <= place < len(rows) and 0 <= other < len(rows)):
        return typed
    row = rows.pop(place)
    if change != "remove":
        rows.insert(other, row)
    return replace(typed, plies=tuple(rows))


def _like(rows: Sequence[TypedPly]) -> TypedPly:
    """A further row: the cloth is chosen anew, so that none is laid by a slip."""
    return TypedPly(length_m=rows[-1].length_m, width_m=rows[-1].width_m) if rows else TypedPly()


def typed_of(job: Job) -> TypedJob:
    """The form of a job that is on record; a job that is only a name has its name alone."""
    order = job.order
    if order is None:
        return TypedJob(code=job.code, part=job.part, customer=job.customer)
    return TypedJob(
        code=job.code,
        part=job.part,
        customer=job.customer,
        area_m2=plain(order.area_m2),
        resin_pct=percent(order.resin_mass_fraction),
        system=order.system,
        release_agent=order.release_agent,
        cups="" if order.cups is None else str(order.cups),
        plies=tuple(_typed_ply(ply) for ply in order.plies),
        **_typed_coat(order.surface_coat),
        **_typed_figures(order),
    )


def _typed_figures(order: JobOrder) -> dict[str, str]:
    needed = ("fibre_density_g_cm3", "resin_density_g_cm3")
    empty_if_none = ("peel_ply_g_m2", "tools_g", "loss_per_cup_g", "cut_margin_m", "least_cup_g")
    found = {name: plain(getattr(order, name)) for name in needed}
    found |= {name: plain(getattr(order, name) or None) for name in empty_if_none}
    return found | {name: plain(getattr(order, name)) for name in ("length_m", "width_m")}


def _typed_coat(coat: CoatOrder | None) -> dict[str, str]:
    if coat is None:
        return {}
    return {
        "coat_system": coat.system,
        "coat_g_m2": plain(coat.coat_g_m2),
        "coat_tools_g": plain(coat.tools_g or None),
        "additive": coat.additive,
        "additive_pct": plain(coat.additive_pct or None),
    }


def _typed_ply(ply: PlyOrder) -> TypedPly:
    share = ply.resin_mass_fraction
    return TypedPly(
        cloth=ply.cloth,
        layers=str(ply.layers),
        angle_deg=plain(ply.angle_deg),
        resin_pct="" if share is None else percent(share),
        length_m=plain(ply.length_m),
        width_m=plain(ply.width_m),
    )


def plain(value: float | None) -> str:
    """A figure with a point and all its digits; empty for none."""
    return "" if value is None else _written(Decimal(repr(float(value))))


def percent(share: float) -> str:
    """A share in per cent, with all its digits."""
    return _written(Decimal(repr(float(share))) * 100)


def share_of(percent_text: str) -> float:
    """The share a figure in per cent means: 48 is the very 0.48 of a job file."""
    return float(Decimal(percent_text) / 100)


def _written(value: Decimal) -> str:
    return f"{value.normalize():f}" if value.is_finite() else str(value)
