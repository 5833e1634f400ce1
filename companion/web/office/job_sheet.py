"""The lay-up sheet of a job on paper: a page that prints well, and a PDF."""

from dataclasses import dataclass

from flask import Blueprint, make_response, render_template, request
from werkzeug.wrappers import Response

from ...errors import OutOfRange
from ...paper.lay_up import Column, PaperSheet, PaperTable, render_sheet
from ...records import catalogue, plans
from ...records.store import Store
from ...trade.cards import Job, SystemCard
from ...trade.job_order import JobOrder
from ...trade.job_outlook import Outlook, ordered_cup, ordered_outlook, poured_as
from ...trade.order import Order
from ..state import state
from .figures import day_and_time, grams
from .job_context import LayUpPage, PlanCupLine, SheetLine
from .job_plan import Asked, asked_for, cups_of, job_page, known_job, outlook_of, scale_label
from .job_plan_words import cautions, heading
from .job_view import cup_line, job_line, jobs_shop, sheet_lines, superseded
from .phrases import _, ngettext

blueprint = Blueprint("job_sheet", __name__)


@blueprint.get("/jobs/<code>/sheet")
def page(code: str) -> Response:
    """Steps with blanks, and cups."""
    job, asked = known_job(code), asked_for(state().store, request.args)
    if asked.errors:
        return job_page(job, request.args, {}, 422)
    return make_response(render_template("office/lay_up.html", page=_page(job, asked)))


@blueprint.get("/jobs/<code>/sheet.pdf")
def pdf(code: str) -> Response:
    """The same as PDF."""
    job, asked = known_job(code), asked_for(state().store, request.args)
    if asked.errors:
        return job_page(job, request.args, {}, 422)
    response = make_response(render_sheet(_on_paper(_page(job, asked))))
    response.headers["Content-Type"] = "application/pdf"
    response.headers["Content-Disposition"] = 'attachment; filename="lay-up-sheet.pdf"'
    return response


def _page(job: Job, asked: Asked) -> LayUpPage:
    store = state().store
    assert job.order is not None
    planned = outlook_of(store, job.order, asked, asked.temperature_c)
    cups = _ordered(store, job, asked, planned) or _not_ordered(store, job, planned)
    return LayUpPage(
        scale=asked.scale.code if asked.scale else "",
        temperature=asked.temperature,
        line=job_line(job, jobs_shop(store)),
        name=job.name,
        steps=_steps(job.order, planned),
        cups=cups.lines,
        standing=cups.standing,
        weighed_on=scale_label(asked.scale) if asked.scale else "",
        warmth=heading(asked.temperature_c),
        cautions=(*cups.cautions, *_rules()),
    )


@dataclass(frozen=True, slots=True)
class _Cups:
    """The cups of the sheet, and what is said of them."""

    lines: tuple[PlanCupLine, ...]
    standing: str
    cautions: tuple[str, ...]


def _ordered(store: Store, job: Job, asked: Asked, planned: Outlook | None) -> _Cups | None:
    """Cups of this revision that stand ordered, by the cards they were ordered with."""
    standing = plans.of_revision(store, job.name)
    if not standing:
        return None
    systems = {card.name: card for card in catalogue.every(store, SystemCard)}
    known = [cup for cup in standing if cup.system in systems]
    found = [ordered_cup(_order_of(cup), systems[cup.system]) for cup in known]
    if planned and job.order and plans.digest(cups_of(job.order, planned)) == plans.digest(known):
        # Only the plan they were ordered by knows how far the resin of each cup goes.
        found = [poured_as(one, plan) for one, plan in zip(found, planned.cups, strict=True)]
    words = [systems[cup.system].hardener_word for cup in known]
    view = (
        ordered_outlook(found, systems, asked.scale, asked.temperature_c) if asked.scale else None
    )
    said = _("ordered on %(time)s (UTC)", time=day_and_time(standing[-1].made_at))
    lines = (
        cup_line(one, word, cup.code) for one, word, cup in zip(found, words, known, strict=True)
    )
    without_card = tuple(
        _(
            "Cup %(cup)s: no card of system %(system)s is on record.",
            cup=cup.code,
            system=cup.system,
        )
        for cup in standing
        if cup not in known
    )
    return _Cups(tuple(lines), said, (*without_card, *(cautions(view) if view else ())))


def _order_of(cup: plans.PlannedCup) -> Order:
    return Order(
        system=cup.system,
        total=cup.total,
        step=cup.step,
        additive=cup.additive,
        additive_pct=cup.additive_pct,
    )


def _not_ordered(store: Store, job: Job, planned: Outlook | None) -> _Cups:
    words = {one.card.name: one.card.hardener_word for one in planned.systems} if planned else {}
    cups = planned.cups if planned else ()
    others = superseded(store, job)
    of_others = ngettext(
        "%(num)s cup of another revision of this job waits to be weighed: it is not on this sheet.",
        "%(num)s cups of other revisions of this job wait to be weighed: they are not on this "
        "sheet.",
        others,
    )
    return _Cups(
        lines=tuple(cup_line(cup, words[cup.cup.system]) for cup in cups),
        standing=_("not ordered yet; amounts by the plan"),
        cautions=(*([of_others] if others else []), *(cautions(planned) if planned else ())),
    )


def _steps(order: JobOrder, found: Outlook | None) -> tuple[SheetLine, ...]:
    try:
        return sheet_lines(state().store, order, found.systems if found else ())
    except OutOfRange:
        # The page of the job says which card is missing.
        return ()


def _rules() -> tuple[str, ...]:
    return (
        _(
            "Gloves, eye protection and air as the safety data sheet says. A cup that is warm or "
            "smokes is not carried: keep people away and follow the safety data sheet."
        ),
        _(
            "Data sheet and safety data sheet rule over every figure here. A record, no proof of "
            "strength."
        ),
    )


def _on_paper(found: LayUpPage) -> PaperSheet:
    line = found.line
    serials = ", ".join(line.serials) or "________________"
    return PaperSheet(
        title=_("Lay-up sheet · job %(job)s · %(part)s", job=found.name, part=line.part),
        lines=(
            _("Serial: %(serials)s", serials=serials),
            _("Customer: %(customer)s", customer=line.customer or _("no customer")),
            _("Scale: %(scale)s", scale=found.weighed_on or _("no scale on record")),
            _("Times: %(warmth)s", warmth=found.warmth),
            _("Cups: %(standing)s", standing=found.standing),
        ),
        tables=(_steps_table(found.steps), _cups_table(found.cups)),
        notes=found.cautions,
    )


def _steps_table(lines: tuple[SheetLine, ...]) -> PaperTable:
    columns = (
        *(Column(_("No."), 10), Column(_("Step"), 36), Column(_("What"), 32)),
        *(Column(_("Times"), 57), Column(_("Begun"), 15), Column(_("Done"), 15)),
        Column(_("Initials"), 15),
    )
    rows = tuple(
        (str(number), line.step, line.what, line.times, "", "", "")
        for number, line in enumerate(lines, 1)
    )
    return PaperTable(_("Steps"), columns, rows)


def _cups_table(lines: tuple[PlanCupLine, ...]) -> PaperTable:
    columns = (
        *(Column(_("Cup"), 22), Column(_("Step"), 32), Column(_("Goes into"), 28)),
        *(Column(_("System"), 40), Column(_("Part A, g"), 20), Column(_("Part B, g"), 18)),
        Column(_("Total, g"), 20),
    )
    rows = tuple(
        (
            *(line.code, line.step, line.paste or line.plies or line.step, line.system),
            *(grams(line.part_a_g), grams(line.part_b_g), grams(line.total_g)),
        )
        for line in lines
    )
    return PaperTable(_("Cups"), columns, rows)
