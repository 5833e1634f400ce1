"""Planning cups for a system and a total."""

from collections.abc import Iterable
from dataclasses import replace

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import NotKnown
from ...records import catalogue, plans
from ...records.sent_forms import SentBefore
from ...records.store import Store
from ...trade.cards import Additive, CupType, Job, ScaleCard, SystemCard
from ...trade.judgement import judgements
from ...trade.order import CheckedOrder, Choices, Order, check_order
from ..state import now_utc, state
from .context import Choice
from .figures import figure
from .form_marks import new_mark, sent_mark
from .job_plan_words import caution
from .lines import planned_line
from .paste_words import additive_label, paste_problem
from .phrases import _
from .plan_context import PlannedPage, PlanPage, SystemJudgements
from .problem_words import field_problem
from .shop import open_shop

blueprint = Blueprint("planning", __name__)

_FIELDS = tuple(Order.__dataclass_fields__)


@blueprint.get("/plan")
def form() -> str:
    """The empty form."""
    wanted = request.args.get("system", "")
    asked, choices = Order(system=wanted, count="1"), _choices(state().store)
    return _form(asked, {}, choices, check_order(asked, choices).cautions)


@blueprint.post("/plan")
def order() -> Response:
    """Plan the cups, or say what is wrong with each field."""
    asked = Order(**{name: request.form.get(name, "") for name in _FIELDS})
    choices = _choices(state().store)
    checked = check_order(asked, choices)
    if checked.problems:
        errors = {one.field: paste_problem(one) or field_problem(one) for one in checked.problems}
        return make_response(_form(asked, errors, choices, checked.cautions), 422)
    at = now_utc()
    cup, mark = _planned_cup(asked, checked), sent_mark()
    try:
        plans.order(state().store, cup, checked.count, at, mark)
    except SentBefore as error:
        return redirect(url_for(".planned", at=error.result, again="yes"), 303)
    return redirect(url_for(".planned", at=at), 303)


@blueprint.get("/planned/<at>")
def planned(at: str) -> str:
    """The cups that were planned at one moment, with their codes and targets."""
    store = state().store
    found = [plan for plan in plans.every(store) if plan.made_at == at]
    if not found:
        raise NotKnown("planned cups", at)
    shop = open_shop(store)
    # Cups keep the revision they were planned by, so that is what is said of them.
    choices = replace(_choices(store), systems=shop.systems)
    checked = [check_order(asked, choices) for asked in dict.fromkeys(map(_order_of, found))]
    in_part = [one.proves_in_part for one in checked if one.proves_in_part]
    page = PlannedPage(
        planned=tuple(planned_line(plan, shop) for plan in found),
        again=bool(request.args.get("again")),
        in_part=in_part[0] if in_part else None,
        cautions=_in_words(name for one in checked for name in one.cautions),
    )
    return render_template("office/planned.html", page=page)


def _planned_cup(asked: Order, checked: CheckedOrder) -> plans.PlannedCup:
    return plans.PlannedCup(
        code="",
        job=asked.job,
        step=checked.step,
        system=asked.system,
        total=checked.total,
        cup_type=asked.cup_type,
        cup_mass=checked.cup_mass,
        additive=asked.additive,
        additive_pct=checked.additive_pct,
    )


def _in_words(names: Iterable[str]) -> tuple[str, ...]:
    """Cautions as the page of a job says them, each once."""
    return tuple(caution(name) for name in dict.fromkeys(names))


def _order_of(plan: plans.PlannedCup) -> Order:
    return Order(
        system=plan.system,
        total=plan.total,
        count="1",
        cup_type=plan.cup_type,
        cup_mass=plan.cup_mass,
        additive=plan.additive,
        additive_pct=plan.additive_pct,
    )


def _choices(store: Store) -> Choices:
    return Choices(
        systems={card.name: card for card in catalogue.latest(store, SystemCard)},
        scales=catalogue.latest(store, ScaleCard),
        cup_types={card.code: card for card in catalogue.latest(store, CupType)},
        jobs=frozenset(card.name for card in catalogue.latest(store, Job)),
        additives={card.code: card for card in catalogue.latest(store, Additive)},
    )


def _form(asked: Order, errors: dict[str, str], choices: Choices, cautions: Iterable[str]) -> str:
    parts = open_shop(state().store).parts
    page = PlanPage(
        mark=request.form.get("mark", "") or new_mark(),
        order=asked,
        errors=errors,
        systems=tuple(Choice(name, _system_label(card)) for name, card in choices.systems.items()),
        jobs=tuple(Choice(job, f"{job} · {parts[job]}") for job in sorted(choices.jobs)),
        cup_types=tuple(Choice(name, _cup_label(card)) for name, card in choices.cup_types.items()),
        additives=tuple(
            Choice(code, additive_label(card)) for code, card in choices.additives.items()
        ),
        cautions=_in_words(cautions),
        judgements=tuple(
            SystemJudgements(
                system=name,
                largest_cup_g=f"{card.largest_cup_g:g}",
                tolerance_pct=f"{card.tolerance_pct:g}",
                scales=judgements(card, choices.scales),
            )
            for name, card in choices.systems.items()
        ),
    )
    return render_template("office/plan.html", page=page)


def _system_label(card: SystemCard) -> str:
    return _(
        "%(system)s · 100:%(ratio)s · hardener %(word)s · up to %(largest)s g",
        system=card.name,
        ratio=figure(f"{card.part_b_pbw:g}"),
        word=card.hardener_word,
        largest=figure(f"{card.largest_cup_g:g}"),
    )


def _cup_label(card: CupType) -> str:
    return _(
        "%(code)s · %(volume)s ml · weighs %(mass)s g",
        code=card.code,
        volume=figure(f"{card.volume_ml:g}"),
        mass=figure(f"{card.mass_g:g}"),
    )
