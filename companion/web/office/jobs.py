"""The list of jobs, as a page and as a table for a spreadsheet."""

from flask import Blueprint, render_template
from werkzeug.wrappers import Response

from ...records import catalogue
from ...trade.cards import Job
from ...wire.people_csv import Figure
from ..state import state
from . import spreadsheet
from .job_context import JobLine, JobsPage
from .job_view import job_line, jobs_shop
from .phrases import _

blueprint = Blueprint("jobs", __name__)


@blueprint.get("/jobs")
def listing() -> str:
    """Every job in its newest revision."""
    return jobs_page({})


@blueprint.get("/jobs.csv")
def table() -> Response:
    """The list for a person's spreadsheet, in the manner of the reader's language."""
    headings = (*(_("Job"), _("Revision"), _("Part"), _("Serials"), _("Customer"), _("State")),)
    lines = (
        (
            *(line.code, Figure(str(line.revision)), line.part),
            *(", ".join(line.serials), line.customer, line.state),
        )
        for line in _lines()
    )
    return spreadsheet.answer("jobs", headings, lines)


def jobs_page(errors: dict[str, str]) -> str:
    """The page of the list."""
    return render_template("office/jobs.html", page=JobsPage(_lines(), errors))


def _lines() -> tuple[JobLine, ...]:
    store = state().store
    shop = jobs_shop(store)
    return tuple(job_line(job, shop) for job in catalogue.latest(store, Job))
