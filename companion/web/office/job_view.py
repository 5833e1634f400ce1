"""The page of a job, put together from its order, its plan and the records."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ...records import catalogue, job_stock, jobs, parts, plans, shipping
from ...records.store import Store
from ...trade.cards import Job, ReleaseAgent
from ...trade.errors import OutOfRange
from ...trade.job_figures import SystemTimes, stack
from ...trade.job_order import JobOrder
from ...trade.job_outlook import OfSystem, Outlook, OutlookCup, largest_needs
from ...trade.job_state import JobState
from ...trade.numbers import fixed
from ...trade.steps import Step, steps
from .card_context import RevisionLine
from .context import Drawing
from .figures import figure, grams
from .job_context import (
    JobLine,
    PartLine,
    PlanCupLine,
    PlanView,
    SheetLine,
    StackLine,
    StockLine,
    TimesLine,
)
from .job_plan_words import (
    cautions,
    duration,
    heading,
    plies,
    step_material,
    step_times,
    stock_state,
    tack_window,
)
from .job_words import job_state
from .phrases import _
from .refusal_words import refusal
from .shipping_words import shipped
from .step_words import step_words

#: Height of the stack in its drawing, units.
STACK_HEIGHT = 240.0


@dataclass(frozen=True, slots=True)
class JobsShop:
    """What lines of jobs need, looked up once per page."""

    states: Mapping[str, JobState]
    serials: Mapping[str, Sequence[str]]
    customers: Mapping[str, str]


def jobs_shop(store: Store) -> JobsShop:
    """Look it up."""
    serials: dict[str, list[str]] = {}
    for part in parts.every(store):
        serials.setdefault(part.job.partition("@")[0], []).append(part.serial)
    return JobsShop(jobs.states(store), serials, jobs.customer_names(store))


def job_line(job: Job, shop: JobsShop) -> JobLine:
    """A job as a line of the list."""
    return JobLine(
        code=job.code,
        revision=job.revision,
        part=job.part,
        serials=tuple(shop.serials.get(job.code, ())),
        customer=shop.customers.get(job.customer, job.customer),
        state=job_state(shop.states[job.code]),
    )


def plan_view(found: Outlook, temperature: str, shown: str) -> PlanView:
    """The plan at one temperature.

    :param shown: digest of its cups.
    """
    words = {one.card.name: one.card.hardener_word for one in found.systems}
    return PlanView(
        heading=heading(found.temperature_c),
        temperature=temperature,
        shown=shown,
        cups=tuple(cup_line(cup, words[cup.cup.system]) for cup in found.cups),
        total_g=found.total_g,
        refusal=refusal(found),
        cautions=cautions(found),
    )


def cup_line(one: OutlookCup, hardener_word: str, code: str = "") -> PlanCupLine:
    """One cup of a plan, or one that stands ordered under a code."""
    paste = _("+ %(mass)s g %(paste)s", mass=grams(one.additive_g), paste=one.additive)
    return PlanCupLine(
        code=code,
        step=step_words(one.step),
        plies=plies(one.first_ply, one.last_ply),
        system=one.cup.system,
        hardener_word=hardener_word,
        part_a_g=one.cup.part_a_g,
        part_b_g=one.cup.part_b_g,
        paste=paste if one.additive else "",
        total_g=one.cup.total_g,
        drawing=Drawing(one.drawn, 1),
    )


def times_lines(views: Sequence[Outlook]) -> tuple[TimesLine, ...]:
    """Limits of every system, side by side for the temperatures compared."""
    found = []
    for place, one in enumerate(views[0].systems):
        compared = [view.systems[place].times for view in views]
        found += _of_one(one, compared)
    return tuple(found)


def _of_one(one: OfSystem, compared: Sequence[SystemTimes]) -> list[TimesLine]:
    masses = tuple(_("%(mass)s g", mass=figure(f"{t.largest_cup_g:g}")) for t in compared)
    said = (
        (_("largest cup"), masses),
        (_("pot life"), tuple(duration(t.pot_life_min) for t in compared)),
        (_("tack window"), tuple(tack_window(t) for t in compared)),
        (_("may leave the mould after"), tuple(duration(t.demould_min) for t in compared)),
        (_("fully cured after"), tuple(duration(t.full_min) for t in compared)),
    )
    return [TimesLine(one.card.name, what, values) for what, values in said]


def stack_lines(order: JobOrder) -> tuple[StackLine, ...]:
    """The stack from the mould up; none where it cannot be told."""
    try:
        found = stack(order, STACK_HEIGHT)
    except OutOfRange:
        return ()
    return tuple(
        StackLine(
            number=str(one.number or ""),
            said=_("%(cloth)s at %(angle)s°", cloth=one.cloth, angle=figure(f"{one.angle_deg:g}"))
            if one.number
            else _("surface coat"),
            thick=_("%(mm)s mm", mm=figure(fixed(one.thick_mm, 2))),
            kind=("even" if one.number % 2 == 0 else "odd") if one.number else "coat",
            top=round(one.top, 2),
            height=round(one.height, 2),
        )
        for one in found
    )


def sheet_lines(
    store: Store, order: JobOrder, systems: Sequence[OfSystem]
) -> tuple[SheetLine, ...]:
    """Steps of the lay-up sheet with the times of the cards.

    :raises OutOfRange: a release agent no card is known of.
    """
    agents = {card.code: card for card in catalogue.latest(store, ReleaseAgent)}
    times = {one.card.code: one.times for one in systems}
    found = steps(order, agents)
    after = [*(step.kind for step in found[1:]), ""]
    return tuple(
        _sheet_line(
            step,
            step_times(step, agents.get(step.release_agent), times.get(step.system), follows),
        )
        for step, follows in zip(found, after, strict=True)
    )


def _sheet_line(step: Step, said: str) -> SheetLine:
    return SheetLine(step_words(step.name), step_material(step), said)


def stock_lines(store: Store, job: Job, views: Sequence[Outlook]) -> tuple[StockLine, ...]:
    """Materials of the plan against what is left of them; the larger need of the views."""
    return tuple(
        StockLine(
            material=one.need.material,
            needed_g=one.need.mass_g,
            elsewhere_g=one.elsewhere_g,
            usable_g=one.usable_g,
            state=stock_state(one),
            enough=one.state == job_stock.ENOUGH,
        )
        for one in job_stock.check(store, largest_needs(views), job.code)
    )


def part_lines(store: Store, code: str) -> tuple[PartLine, ...]:
    """Parts of a job."""
    sent, names = shipping.shipments(store), jobs.customer_names(store)
    return tuple(
        PartLine(
            code=part.code,
            serial=part.serial,
            shipped=shipped(sent[part.code], names) if part.code in sent else "",
        )
        for part in parts.of_job(store, code)
    )


def superseded(store: Store, job: Job) -> int:
    """How many cups of its other revisions nobody has started."""
    return sum(
        cup.job.partition("@")[0] == job.code and cup.job != job.name
        for cup in plans.waiting(store)
    )


def revision_lines(found: Sequence[catalogue.Revision], shown: Job) -> tuple[RevisionLine, ...]:
    """Every revision of a job, in the order given."""
    return tuple(
        RevisionLine(one.card.revision, one.made_at, one.card.revision == shown.revision)
        for one in found
    )
