"""The list of jobs, as a page and as a table for a spreadsheet."""

from babel.numbers import get_decimal_symbol
from flask import Blueprint, make_response, render_template
from flask_babel import get_locale
from werkzeug.wrappers import Response

from ...records import catalogue
from ...trade.cards import Job
from ...wire.people_csv import Figure, manner, write_table
from ..state import now_utc, state
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
    how = manner(get_decimal_symbol(get_locale()))
    response = make_response(write_table(headings, lines, how).encode())
    response.headers["Content-Type"] = "text/csv; charset=utf-8; header=present"
    name = f"companion-jobs-{now_utc()[:10]}.csv"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


def jobs_page(errors: dict[str, str]) -> str:
    """The page of the list."""
    return render_template("office/jobs.html", page=JobsPage(_lines(), errors))


def _lines() -> tuple[JobLine, ...]:
    store = state().store
    shop = jobs_shop(store)
    return tuple(job_line(job, shop) for job in catalogue.latest(store, Job))
