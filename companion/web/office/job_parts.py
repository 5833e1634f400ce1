"""Parts of a job: entering a serial, shipping to a customer, and striking a shipping."""

from collections.abc import Mapping

from flask import Blueprint, redirect, request, url_for
from werkzeug.wrappers import Response

from ...errors import NotKnown, OutOfRange, Taken
from ...records import jobs, parts, shipping
from ...records.ship_concerns import concerns
from ...records.shipping import LONGEST_REASON, Shipment
from ...trade.cards import Job
from ...trade.form_reading import FieldProblem, Reading
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
    return _back_to(code)


@blueprint.post("/jobs/<code>/ship")
def ship(code: str) -> Response:
    """Record that a part went to a customer; in spite of cautions only with a reason."""
    store, at = state().store, now_utc()
    job, reading = jobs.newest(store, code), Reading()
    sent = _shipment(job, reading, request.form, at)
    if reading.problems:
        return _refused(job, reading)
    try:
        shipping.ship(store, sent, at)
    except Taken as error:
        said = _(
            "Part %(part)s was shipped to %(customer)s already.",
            part=sent.part,
            customer=error.holder,
        )
        return job_page(job, request.form, {"ship_part": said}, 409)
    return _back_to(code)


@blueprint.post("/jobs/<code>/strike-shipping")
def strike(code: str) -> Response:
    """Strike the shipping of a part that did not go, or went elsewhere."""
    store, at = state().store, now_utc()
    job, reading = jobs.newest(store, code), Reading()
    sent = set(shipping.shipments(store)) & _own(code)
    part = reading.choice("strike_part", request.form.get("strike_part", ""), sent, needed=True)
    reason = reading.text("strike_reason", request.form.get("strike_reason", ""), LONGEST_REASON)
    if reading.problems:
        return _refused(job, reading)
    try:
        shipping.strike(store, part, reason, at)
    except NotKnown:
        said = _("The shipping of part %(part)s was struck already.", part=part)
        return job_page(job, request.form, {"strike_part": said}, 409)
    return _back_to(code)


def _shipment(job: Job, reading: Reading, sent: Mapping[str, str], at: str) -> Shipment:
    store = state().store
    part = reading.choice("ship_part", sent.get("part", ""), _own(job.code), needed=True)
    customers = jobs.customer_names(store)
    customer = reading.choice("customer", sent.get("customer", ""), customers, needed=True)
    day = reading.day("day", sent.get("day", ""), at[:10])
    typed = sent.get("ship_reason", "").strip()
    is_asked = bool(concerns(store, job.name))
    if is_asked and not typed:
        reading.problems.append(FieldProblem("ship_reason", "no_reason", ""))
    elif is_asked:
        reading.text("ship_reason", typed, LONGEST_REASON)
    return Shipment(part, customer, day, typed if is_asked else "")


def _own(code: str) -> set[str]:
    return {part.code for part in parts.of_job(state().store, code)}


def _refused(job: Job, reading: Reading) -> Response:
    errors = {problem.field: job_problem(problem) for problem in reading.problems}
    return job_page(job, request.form, errors, 422)


def _back_to(code: str) -> Response:
    return redirect(url_for("office.job_plan.page", code=code, _anchor="parts"), 303)
