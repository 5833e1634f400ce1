"""What stands below a can: its weighings, the form of the next one, and that of striking one."""

from ...records import cans, catalogue
from ...records.cans import KeptWeighing
from ..state import state
from .card_context import CanWeighing, WeighingLine
from .context import Choice
from .figures import day_and_time, figure
from .phrases import _


def weighing_form(
    code: str, typed: dict[str, str] | None = None, errors: dict[str, str] | None = None
) -> CanWeighing:
    """The forms of a can, empty or as they were sent.

    :param code: of the can.
    """
    store = state().store
    people, kept = catalogue.all_people(store), cans.weighings(store, code)
    return CanWeighing(
        typed=typed or {},
        errors=errors or {},
        labels=weighing_labels(),
        people=tuple(Choice(person, f"{person} · {name}") for person, name in people.items()),
        lines=tuple(_line(one, people) for one in kept),
        standing=tuple(Choice(one.row.event_id, _said(one)) for one in kept if not one.strike),
    )


def weighing_labels() -> dict[str, str]:
    """What the fields of both forms are called."""
    return {
        "gross_g": _("Can with lid and content, g"),
        "weighed_by": _("Who weighed it"),
        "weighing": _("Weighing"),
        "why_struck": _("Why it is struck"),
        "struck_by": _("Who strikes it"),
    }


def _line(one: KeptWeighing, people: dict[str, str]) -> WeighingLine:
    return WeighingLine(
        at=one.row.recorded_at,
        offset_min=one.row.utc_offset_min,
        gross=one.row.value,
        person=people.get(one.row.person, one.row.person),
        struck=_struck(one, people),
    )


def _struck(one: KeptWeighing, people: dict[str, str]) -> str:
    if one.strike is None:
        return ""
    name = people.get(one.strike.person, one.strike.person)
    return _("struck by %(person)s: “%(reason)s”", person=name, reason=one.strike.note)


def _said(one: KeptWeighing) -> str:
    at = day_and_time(one.row.recorded_at, one.row.utc_offset_min)
    return _("%(mass)s g, weighed %(time)s", mass=figure(one.row.value), time=at)
