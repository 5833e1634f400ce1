"""Jobs as files: brought by a person, and handed out."""

import re

from flask import Blueprint, make_response, redirect, request, url_for
from werkzeug.wrappers import Response

from ...errors import OutOfRange, Taken
from ...records import catalogue, jobs
from ...trade.cards import Cloth, Job
from ...trade.job_file_check import check_file
from ...trade.job_order import JobOrder
from ...wire.job_file import WrongFile, read_job, write_json, write_toml
from ..state import now_utc, state
from .job_choices import job_choices
from .job_file_words import wrong_file
from .job_plan import known_job
from .job_words import job_problem, short
from .jobs import jobs_page
from .phrases import _
from .problem_words import part_problem

blueprint = Blueprint("job_files", __name__)

_MOST_SHOWN = 20


@blueprint.get("/jobs/<code>.json")
def as_json(code: str) -> Response:
    """The newest revision as JSON."""
    job = known_job(code)
    assert job.order is not None
    return _file(write_json(job.order), job.code, "json")


@blueprint.get("/jobs/<code>.toml")
def as_toml(code: str) -> Response:
    """The newest revision as TOML."""
    job = known_job(code)
    assert job.order is not None
    return _file(write_toml(job.order), job.code, "toml")


def _file(body: bytes, code: str, ending: str) -> Response:
    response = make_response(body)
    response.headers["Content-Type"] = f"application/{ending}"
    # A header takes plain letters only.
    name = f"job-{code}" if re.fullmatch(r"[A-Za-z0-9_-]+", code) else "job"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.{ending}"'
    return response


@blueprint.post("/import-job")
def bring() -> Response:
    """Take a job file: a new job, or the next revision of one that is on record."""
    upload = request.files.get("file")
    body = upload.read() if upload else b""
    if not body:
        said = _("No file is chosen, or it is empty. A job file is needed: JSON or TOML.")
        return make_response(jobs_page({"file": said}), 422)
    is_toml = bool(upload and (upload.filename or "").lower().endswith(".toml"))
    try:
        order = read_job(body, is_toml=is_toml)
    except WrongFile as error:
        return make_response(jobs_page({"file": wrong_file(error)}), 422)
    return _keep(order)


def _keep(order: JobOrder) -> Response:
    store = state().store
    base = next((one for one in catalogue.latest(store, Job) if one.code == order.job), None)
    cards = {card.code: card for card in catalogue.latest(store, Cloth)}
    checked = check_file(order, job_choices(store, order.job, order), cards)
    if checked.order is None:
        said = {str(n): job_problem(one) for n, one in enumerate(checked.problems[:_MOST_SHOWN])}
        return make_response(jobs_page(said), 422)
    job = _next(base, checked.order)
    try:
        jobs.keep(store, job, now_utc())
    except (Taken, OutOfRange) as error:
        return make_response(jobs_page({"file": _refused(error)}), error.http_hint)
    return redirect(url_for("office.job_plan.page", code=order.job), 303)


def _next(base: Job | None, order: JobOrder) -> Job:
    customer, revision = (base.customer, base.revision) if base else ("", 0)
    return Job(order.job, revision, order.part, order, customer)


def _refused(error: Taken | OutOfRange) -> str:
    given = short(str(error.value))
    if isinstance(error, Taken):
        return _(
            "The file: %(field)s “%(given)s” is taken by %(holder)s. Change it in the file.",
            field=error.field,
            given=given,
            holder=error.holder,
        )
    return part_problem(error)
