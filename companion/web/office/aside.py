"""The worklist of rows set aside: looked at one by one, left out or taken in."""

from collections.abc import Mapping
from math import ceil

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...records import settling
from ...records.aside import TAKEN_IN, Decision, Stray, all_strays, stray
from ...records.catalogue import all_people
from ...records.log import QUARANTINED, row_with_id
from ...trade.rows import COLUMNS
from ...wire.log_csv import read_fields
from ..state import now_utc, state
from . import words
from .aside_context import AsideEntry, AsideField, AsidePage, AsideRowPage, Compared
from .context import Choice
from .figures import moment
from .phrases import _

blueprint = Blueprint("aside", __name__)

ON_A_PAGE = 50


@blueprint.get("/aside")
def listing() -> str:
    """Rows to decide on, the oldest first; below, the rows decided, the newest first."""
    strays = all_strays(state().store)
    waiting = [one for one in reversed(strays) if one.decision is None]
    decided = sorted(
        (one for one in strays if one.decision),
        key=lambda one: one.decision.at if one.decision else "",
        reverse=True,
    )
    pages = max(1, ceil(max(len(waiting), len(decided)) / ON_A_PAGE))
    number = min(max(request.args.get("page", 1, type=int), 1), pages)
    part = slice((number - 1) * ON_A_PAGE, number * ON_A_PAGE)
    people = all_people(state().store)
    page = AsidePage(
        waiting=tuple(_entry(one, people) for one in waiting[part]),
        decided=tuple(_entry(one, people) for one in decided[part]),
        waiting_total=len(waiting),
        decided_total=len(decided),
        number=number,
        pages=pages,
    )
    return render_template("office/aside.html", page=page)


@blueprint.get("/aside/<int:number>")
def row(number: int) -> str:
    """One row set aside, and what can be done with it."""
    return _page(stray(state().store, number), {}, {})


@blueprint.post("/aside/<int:number>/leave-out")
def leave_out(number: int) -> Response:
    """Keep the row out."""
    found = stray(state().store, number)
    decision, errors = _decision()
    if errors:
        return make_response(_page(found, errors, {}), 422)
    settling.leave_out(state().store, number, decision)
    return redirect(url_for(".listing", _anchor=f"row-{number}"), 303)


@blueprint.post("/aside/<int:number>/take-in")
def take_in(number: int) -> Response:
    """Take the row into the records."""
    found = stray(state().store, number)
    changed = {
        name: request.form[f"row-{name}"] for name in COLUMNS if f"row-{name}" in request.form
    }
    decision, errors = _decision()
    if not errors:
        try:
            settling.take_in(state().store, number, decision, changed)
        except settling.WrongField as wrong:
            errors[f"row-{wrong.field}"] = _column_words(wrong.field, str(wrong.value))
    if errors:
        return make_response(_page(found, errors, changed), 422)
    return redirect(url_for(".listing", _anchor=f"row-{number}"), 303)


def _decision() -> tuple[Decision, dict[str, str]]:
    """Who decides and why, as sent, and what is wrong with it."""
    person, reason = request.form.get("decided_by", ""), request.form.get("reason", "").strip()
    errors = {}
    if person not in all_people(state().store):
        errors["decided_by"] = _("Choose who decides.")
    if any(not character.isprintable() for character in reason):
        errors["reason"] = _("The reason holds a character that cannot be seen.")
    elif not reason:
        errors["reason"] = _("Write the reason; it stays with the row.")
    elif len(reason) > settling.LONGEST_REASON:
        errors["reason"] = _(
            "The reason has %(count)s characters; %(most)s are allowed.",
            count=len(reason),
            most=settling.LONGEST_REASON,
        )
    return Decision("", person, reason, now_utc()), errors


def _column_words(name: str, value: str) -> str:
    reason = words.aside_reason(QUARANTINED, name)
    return _("%(column)s “%(value)s”: %(reason)s.", column=name, value=value[:60], reason=reason)


def _page(found: Stray, errors: dict[str, str], changed: Mapping[str, str]) -> str:
    fields = {**read_fields(found.raw, found.header), **changed}
    held = row_with_id(state().store, fields["event_id"])
    people = all_people(state().store)
    page = AsideRowPage(
        entry=_entry(found, people),
        errors=errors,
        people=tuple(Choice(code, f"{code} · {name}") for code, name in people.items()),
        decided_by=request.form.get("decided_by", ""),
        reason=request.form.get("reason", ""),
        fields=tuple(
            AsideField(name, fields[name])
            for name in COLUMNS
            if name not in settling.OWN_COLUMNS and found.status == QUARANTINED
        ),
        compared=tuple(
            Compared(
                name,
                fields[name],
                str(getattr(held, name)),
                fields[name] != str(getattr(held, name)),
            )
            for name in COLUMNS
        )
        if held and found.status != QUARANTINED
        else (),
        begins_cup=bool(held) and "cup_started" in (fields["kind"], held.kind if held else ""),
        may_leave_out=found.decision is None,
        may_take_in=found.decision is None or found.decision.outcome != TAKEN_IN,
    )
    return render_template("office/aside_row.html", page=page)


def _entry(found: Stray, people: Mapping[str, str]) -> AsideEntry:
    decision = found.decision
    return AsideEntry(
        number=found.number,
        log_id=found.log_id,
        seq=str(found.seq or ""),
        status=words.status(found.status),
        reason=words.aside_reason(found.status, found.reason),
        raw=found.raw,
        header=found.header,
        at=moment(found.received_at),
        outcome=words.outcome(decision.outcome) if decision else "",
        decided=_(
            "%(person)s, %(time)s: “%(reason)s”",
            person=people.get(decision.person, decision.person),
            time=moment(decision.at),
            reason=decision.reason,
        )
        if decision
        else "",
    )
