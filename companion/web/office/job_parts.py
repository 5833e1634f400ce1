"""Parts of a job: entering a serial, and shipping to a customer."""

from flask import Blueprint, redirect, request, url_for
from werkzeug.wrappers import Response

from ...errors import OutOfRange, Taken
from ...records import jobs, parts
from ...trade.form_reading import Reading
from ..state import now_utc, state
from .job_plan import job_page
from .job_words import job_problem
from .phrases import _
from .problem_words import part_problem

blueprint = Blueprint("job_parts", __name__)


@blueprint.post("/jobs/<code>/parts")
def enter(code: str) -> Response:
    """Enter a part of this job, or say what is wrong with its serial."""
    store = state().store
    job = jobs.newest(store, code)
    try:
        parts.add(store, job.name, request.form.get("serial", ""), now_utc())
    except OutOfRange as error:
        return job_page(job, request.form, {"serial": part_problem(error)}, 422)
    except Taken as error:
        return job_page(job, request.form, {"serial": part_problem(error)}, 409)
    return redirect(url_for("office.job_plan.page", code=code, _anchor="parts"), 303)


@blueprint.post("/jobs/<code>/ship")
def ship(code: str) -> Response:
    """Record that a part went to a customer."""
    store, at = state().store, now_utc()
    job, reading = jobs.newest(store, code), Reading()
    own = {part.code for part in parts.of_job(store, code)}
    part = reading.choice("ship_part", request.form.get("part", ""), own, needed=True)
    customer = reading.choice(
        "customer", request.form.get("customer", ""), jobs.customer_names(store), needed=True
    )
    day = reading.day("day", request.form.get("day", ""), at[:10])
    if reading.problems:
        errors = {problem.field: job_problem(problem) for problem in reading.problems}
        return job_page(job, request.form, errors, 422)
    try:
        jobs.ship(store, part, customer, day, at)
    except Taken as error:
        said = _(
            "Part %(part)s was shipped to %(customer)s already.", part=part, customer=error.holder
        )
        return job_page(job, request.form, {"ship_part": said}, 409)
    return redirect(url_for("office.job_plan.page", code=code, _anchor="parts"), 303)
