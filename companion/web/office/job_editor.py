"""A new job, and a new revision of one; rows of plies are added and moved without a script."""

import re

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import OutOfRange, Taken
from ...records import catalogue, jobs
from ...trade.cards import Job
from ...trade.job_check import JobChoices, check_job
from ...trade.job_form import (
    FIELDS,
    PLY_FIELDS,
    TypedJob,
    TypedPly,
    ply_field,
    typed_of,
    with_rows_changed,
)
from ..state import now_utc, state
from .job_choices import (
    additive_list,
    cloth_list,
    customer_list,
    job_choices,
    release_agent_list,
    system_list,
)
from .job_context import JobFormPage
from .job_words import job_problem
from .phrases import _

blueprint = Blueprint("job_editor", __name__)

_CHANGES = ("add", "remove", "up", "down")
_ROW = re.compile(r"plies-([0-9]{1,4})-[a-z_]+\Z")


@blueprint.get("/new-job")
def new() -> str:
    """The empty form."""
    return _form(TypedJob(), {}, _base("", 0))


@blueprint.get("/jobs/<code>/edit")
def edit(code: str) -> str:
    """The newest revision in the form."""
    job = jobs.newest(state().store, code)
    return _form(typed_of(job), {}, job)


@blueprint.post("/new-job")
def keep_new() -> Response:
    """Keep a new job, or change the rows of its form."""
    return _answer(_typed(""), _base("", 0))


@blueprint.post("/jobs/<code>/edit")
def keep(code: str) -> Response:
    """Keep a new revision, or change the rows of its form."""
    opened = request.form.get("revision", "")
    newest = jobs.newest(state().store, code)
    # What the form was opened at cannot be guessed: a later save would be overwritten.
    if not re.fullmatch(r"[1-9][0-9]{0,5}", opened) or int(opened) > newest.revision:
        raise OutOfRange("revision", opened, f"1 to {newest.revision}")
    return _answer(_typed(code), _base(code, int(opened)))


def _base(code: str, revision: int) -> Job:
    """The revision a form was opened at."""
    return catalogue.named(state().store, Job, f"{code}@{revision}") if code else Job("", 0, "")


def _typed(code: str) -> TypedJob:
    """What was sent; the code of a job that is on record is no field of its form."""
    sent = {name: request.form.get(name, "") for name in FIELDS}
    numbers = sorted({int(found[1]) for key in request.form if (found := _ROW.match(key))})
    rows = tuple(
        TypedPly(**{name: request.form.get(ply_field(n, name), "") for name in PLY_FIELDS})
        for n in numbers
    )
    return TypedJob(**(sent | ({"code": code} if code else {})), plies=rows)


def _answer(typed: TypedJob, base: Job) -> Response:
    for change in _CHANGES:
        if change in request.form:
            number = request.form[change]
            place = int(number) if re.fullmatch(r"[0-9]{1,4}", number) else 0
            return make_response(_form(with_rows_changed(typed, change, place), {}, base))
    choices = _choices(base)
    checked = check_job(typed, choices, serial=base.order.serial if base.order else "")
    if checked.order is None:
        errors = {problem.field: job_problem(problem) for problem in reversed(checked.problems)}
        return make_response(_form(typed, dict(reversed(errors.items())), base), 422)
    job = Job(checked.order.job, base.revision, checked.order.part, checked.order, typed.customer)
    try:
        kept = jobs.keep(state().store, job, now_utc())
    except Taken as error:
        return make_response(_taken(typed, base, error), 409)
    return redirect(url_for("office.job_plan.page", code=kept.code), 303)


def _taken(typed: TypedJob, base: Job, error: Taken) -> str:
    """Somebody was faster: the form stands as it was typed, on top of what they made."""
    if error.field != "revision":
        said = _("Job: “%(code)s” is another job already.", code=typed.code.strip())
        return _form(typed, {"code": said}, base)
    said = _(
        "Meanwhile revision %(newest)s was made of this job. Look at it first; whoever saves here "
        "again puts this form after it.",
        newest=error.holder,
    )
    newest = jobs.newest(state().store, base.code)
    return _form(typed, {"part": said}, newest, raced=True)


def _choices(base: Job) -> JobChoices:
    return job_choices(state().store, base.code, base.order, base.customer)


def _form(typed: TypedJob, errors: dict[str, str], base: Job, *, raced: bool = False) -> str:
    choices = _choices(base)
    page = JobFormPage(
        typed=typed,
        errors=errors,
        code=base.code,
        revision=base.revision,
        raced=raced,
        systems=system_list(choices),
        cloths=cloth_list(choices),
        release_agents=release_agent_list(choices),
        additives=additive_list(choices),
        customers=customer_list(state().store, base.customer),
    )
    return render_template("office/job_form.html", page=page)
