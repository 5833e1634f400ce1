"""The page of a job: what it takes, its cups at this or another temperature, and ordering them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import NotKnown, OutOfRange, Taken
from ...records import catalogue, jobs, plans
from ...records.ship_concerns import concerns
from ...records.store import Store
from ...trade.cards import CupType, Job, ScaleCard, SystemCard
from ...trade.form_reading import Bounds, Reading
from ...trade.job_check import BOUNDS
from ...trade.job_form import plain
from ...trade.job_order import JobOrder
from ...trade.job_outlook import Outlook, outlook
from ...trade.judgement import heaviest_cup_g
from ..state import now_utc, state
from . import job_view
from .context import Choice
from .figures import day_and_time, figure
from .job_choices import customer_list, finest_first
from .job_context import JobPage, SheetLine
from .job_facts import facts
from .job_words import job_problem
from .phrases import _
from .shipping_words import concern

blueprint = Blueprint("job_plan", __name__)

_SHIPPING = ("part", "customer", "day", "ship_reason", "strike_part", "strike_reason")
_TEMPERATURE = Bounds("0", "50", needed=False)


@dataclass(frozen=True, slots=True)
class Asked:
    """What a plan is asked for: a scale, and a temperature beside those of the sheets."""

    scale: ScaleCard | None
    temperature: str
    temperature_c: float | None
    errors: dict[str, str]


@blueprint.get("/jobs/<code>")
def page(code: str) -> Response:
    """What a job takes, in its newest revision or in the one that is asked for."""
    asked = request.args.get("revision", "")
    job = catalogue.named(state().store, Job, f"{code}@{asked}" if asked else code)
    return job_page(job, request.args, {})


@blueprint.post("/jobs/<code>/cups")
def take_nearest(code: str) -> Response:
    """Ask for the number and the size of cups that work: a revision of its own."""
    store = state().store
    job, reading = known_job(code), Reading()
    cups = reading.whole("cups", request.form.get("cups", ""), BOUNDS["cups"])
    least_g = reading.number(
        "least_cup_g", request.form.get("least_cup_g", ""), BOUNDS["least_cup_g"]
    )
    if reading.problems:
        return job_page(job, {}, {"cups": job_problem(reading.problems[0])}, 422)
    if request.form.get("job") != job.name:
        return _moved_on(job)
    assert job.order is not None
    wanted = replace(
        job.order,
        cups=job.order.cups if cups is None else cups,
        least_cup_g=job.order.least_cup_g if least_g is None else least_g,
    )
    kept = jobs.keep(store, replace(job, order=wanted), now_utc())
    return redirect(url_for(".page", code=kept.code), 303)


@blueprint.post("/jobs/<code>/order")
def order(code: str) -> Response:
    """Plan all cups of the job at one moment, as the page showed them."""
    store = state().store
    job = jobs.newest(store, code)
    asked = asked_for(store, request.form)
    if request.form.get("job") != job.name:
        return _moved_on(job)
    found = outlook_of(store, job.order, asked, asked.temperature_c) if job.order else None
    if asked.errors or found is None or found.made is None:
        return job_page(job, request.form, asked.errors, 422)
    cups, at = cups_of(job.order, found), now_utc()
    if request.form.get("shown") != plans.digest(cups):
        return _otherwise(job)
    try:
        plans.order_all(store, job.name, cups, at)
    except Taken as error:
        said = _(
            "The cups of this revision were planned already, on %(time)s (UTC). Withdraw them on "
            "the list of cups first, or save a new revision of the job.",
            time=day_and_time(error.holder),
        )
        return job_page(job, request.form, {"order": said}, 409)
    return redirect(url_for("office.planning.planned", at=at), 303)


def _moved_on(job: Job) -> Response:
    said = _(
        "Meanwhile revision %(newest)s was made of this job. Nothing was changed; this page shows "
        "the newest.",
        newest=job.revision,
    )
    return job_page(job, {}, {"order": said}, 409)


def _otherwise(job: Job) -> Response:
    said = _(
        "The plan is another one than the page showed: a card or the scale changed meanwhile. "
        "Nothing was ordered; this is the plan now. Look at it, then order."
    )
    return job_page(job, request.form, {"order": said}, 409)


def cups_of(order: JobOrder | None, found: Outlook) -> list[plans.PlannedCup]:
    """The cups of a plan as they are ordered; their codes come with the order."""
    coat = order.surface_coat if order else None
    return [
        plans.PlannedCup(
            code="",
            job="",
            step=one.step,
            system=one.cup.system,
            total=one.total,
            additive=one.additive,
            additive_pct=plain(coat.additive_pct) if coat and one.additive else "",
        )
        for one in found.cups
    ]


def asked_for(store: Store, sent: Mapping[str, str]) -> Asked:
    """Scale and temperature as sent; the finest scale where none was chosen."""
    scales, reading = {card.code: card for card in finest_first(store)}, Reading()
    code = reading.choice("scale", sent.get("scale", ""), scales)
    typed = sent.get("temperature", "")
    temperature_c = reading.number("temperature", typed, _TEMPERATURE)
    errors = {problem.field: job_problem(problem) for problem in reading.problems}
    scale = scales[code] if code else next(iter(scales.values()), None)
    return Asked(scale, typed, temperature_c, errors)


def outlook_of(
    store: Store, order: JobOrder, asked: Asked, temperature_c: float | None
) -> Outlook | None:
    """The plan for the scale asked for; None without a scale."""
    if asked.scale is None:
        return None
    systems = {card.code: card for card in catalogue.latest(store, SystemCard)}
    empty_cup_g = heaviest_cup_g(catalogue.latest(store, CupType))
    return outlook(order, systems, asked.scale, temperature_c, empty_cup_g)


def job_page(
    job: Job,
    sent: Mapping[str, str],
    errors: Mapping[str, str],
    status: int = 200,
) -> Response:
    """The page of a job.

    :param sent: scale and temperature; serial and shipping as they were typed.
    """
    store = state().store
    asked = asked_for(store, sent)
    found = _views(store, job.order, asked)
    if asked.errors and status == 200:
        status = 422
    revisions = catalogue.revisions(store, Job, job.code)[::-1]
    steps, steps_problem = _steps(store, job.order, found)
    shown = JobPage(
        line=job_view.job_line(job, job_view.jobs_shop(store)),
        name=job.name,
        is_old=job != revisions[0].card,
        revisions=job_view.revision_lines(revisions, job),
        order=job.order,
        errors={**errors, **asked.errors},
        facts=facts(job.order, found) if job.order else (),
        views=tuple(
            job_view.plan_view(
                one,
                asked.temperature if one.temperature_c is not None else "",
                plans.digest(cups_of(job.order, one)),
            )
            for one in found
        ),
        times=job_view.times_lines(found) if found else (),
        stack=job_view.stack_lines(job.order) if job.order else (),
        steps=steps,
        steps_problem=steps_problem,
        stock=job_view.stock_lines(store, job, found),
        scales=tuple(Choice(card.code, scale_label(card)) for card in finest_first(store)),
        scale=asked.scale.code if asked.scale else "",
        temperature=asked.temperature,
        ordered=tuple(plans.of_revision(store, job.name)),
        superseded=job_view.superseded(store, job),
        parts=job_view.part_lines(store, job.code),
        customers=customer_list(store),
        serial=sent.get("serial", ""),
        shipping={name: sent.get(name, "") for name in _SHIPPING}
        | ({} if "customer" in sent else {"customer": job.customer}),
        concerns=tuple(concern(one) for one in concerns(store, job.name)),
    )
    return make_response(render_template("office/job.html", page=shown), status)


def _views(store: Store, order: JobOrder | None, asked: Asked) -> list[Outlook]:
    if order is None:
        return []
    temperatures = dict.fromkeys([None, asked.temperature_c])
    found = [outlook_of(store, order, asked, temperature_c) for temperature_c in temperatures]
    return [one for one in found if one is not None]


def _steps(
    store: Store, order: JobOrder | None, found: list[Outlook]
) -> tuple[tuple[SheetLine, ...], str]:
    if order is None:
        return (), ""
    try:
        return job_view.sheet_lines(store, order, found[0].systems if found else ()), ""
    except OutOfRange as error:
        said = _(
            "Release agent “%(agent)s” is not on record, so the steps cannot be told. Enter it "
            "under Materials, or change the job.",
            agent=str(error.value),
        )
        return (), said


def scale_label(card: ScaleCard) -> str:
    """A scale with its step, in words."""
    return _("%(scale)s · steps of %(step)s g", scale=card.code, step=figure(card.readability))


def known_job(code: str) -> Job:
    """The newest revision of a job that says what is to be made.

    :raises NotKnown: there is no such job, or it is only a name.
    """
    job = jobs.newest(state().store, code)
    if job.order is None:
        raise NotKnown("order of job", code)
    return job
