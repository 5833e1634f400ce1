"""The lay-up sheet of a job on paper: a page that prints well, and a PDF."""

from flask import Blueprint, make_response, render_template
from werkzeug.wrappers import Response

from ...errors import OutOfRange
from ...paper.lay_up import Column, PaperSheet, PaperTable, render_sheet
from ...trade.job_order import JobOrder
from ...trade.job_outlook import Outlook
from ..state import state
from .figures import grams
from .job_context import LayUpPage, PlanCupLine, SheetLine
from .job_plan import known_job, plain_outlook
from .job_plan_words import cautions
from .job_view import cup_line, job_line, jobs_shop, sheet_lines
from .phrases import _

blueprint = Blueprint("job_sheet", __name__)


@blueprint.get("/jobs/<code>/sheet")
def page(code: str) -> str:
    """Steps with blanks, and cups."""
    return render_template("office/lay_up.html", page=_page(code))


@blueprint.get("/jobs/<code>/sheet.pdf")
def pdf(code: str) -> Response:
    """The same as PDF."""
    found = _page(code)
    response = make_response(render_sheet(_on_paper(found)))
    response.headers["Content-Type"] = "application/pdf"
    response.headers["Content-Disposition"] = 'attachment; filename="lay-up-sheet.pdf"'
    return response


def _page(code: str) -> LayUpPage:
    store, job = state().store, known_job(code)
    assert job.order is not None
    found = plain_outlook(store, job.order)
    words = {one.card.name: one.card.hardener_word for one in found.systems} if found else {}
    return LayUpPage(
        line=job_line(job, jobs_shop(store)),
        name=job.name,
        steps=_steps(job.order, found),
        cups=tuple(cup_line(cup, words[cup.cup.system]) for cup in found.cups) if found else (),
        cautions=(*(cautions(found) if found else ()), *_rules()),
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
            _("Customer: %(customer)s", customer=line.customer or _("none")),
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
            *("", line.step, line.paste or line.plies or line.step, line.system),
            *(grams(line.part_a_g), grams(line.part_b_g), grams(line.total_g)),
        )
        for line in lines
    )
    return PaperTable(_("Cups"), columns, rows)
