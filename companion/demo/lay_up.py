"""A lay-up sheet as it was worked through: every step with its rows, and the cups in between."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from ..trade.cards import Job, ReleaseAgent, SystemCard
from ..trade.job_order import JobOrder, layer_by_layer
from ..trade.plan import SURFACE_COAT, PlanCup, plan
from ..trade.steps import Step, steps
from .drafts import Draft
from .weighing import Bench, CupOrder, leave, pour_out, weigh

#: How long a step takes and how long it is to the next one, minutes; common practice, no source.
_WORK_MIN, _PAUSE_MIN = 8, 2
#: After a tack window has opened, until somebody tests with the finger, minutes.
_FINGER_MIN = 20
#: Until the part leaves the mould where the card of that time did not say; common practice.
_CURE_MIN = 1440
#: Note of the last step.
_HARD = "sample hard"


@dataclass(frozen=True, slots=True)
class Shop:
    """What a lay-up is made with.

    :ivar systems: by code, in the revision of that time.
    """

    bench: Bench
    systems: Mapping[str, SystemCard]
    release_agents: Mapping[str, ReleaseAgent]


@dataclass(slots=True)
class _LayUp:
    shop: Shop
    job: Job
    order: JobOrder
    person: str
    at: datetime
    drafts: list[Draft] = field(default_factory=list)

    def write(self, kind: str, step: str, **fields: str) -> None:
        shared = {"kind": kind, "job": self.job.name, "step": step, "person": self.person}
        self.drafts.append(Draft(self.at, {**shared, **fields}))

    def wait(self, minutes: float) -> None:
        self.at += timedelta(minutes=minutes)

    def cup_into(self, cup: PlanCup, fate: str, note: str) -> list[Draft]:
        """Weigh a planned cup; the work goes on when it is mixed."""
        system = self.shop.systems[cup.system.partition("@")[0]]
        total_g, step = round(cup.total_g, 1), step_names(cup)[0]
        order = CupOrder(system, total_g, step, self.person, self.job.name, fate, note)
        drafts = weigh(self.shop.bench, order, self.at)
        self.at = drafts[-1].at
        self.wait(1)
        return drafts


def step_names(cup: PlanCup) -> list[str]:
    """Steps of the sheet a cup is poured into; of a plan made layer by layer."""
    if cup.step == SURFACE_COAT:
        return ["surface coat"]
    return [f"ply {place + 1}" for place in cup.plies]


def lay_up(
    shop: Shop,
    job: Job,
    start: datetime,
    until: str,
    *,
    person: str = "O",
    fates: Mapping[int, tuple[str, str]] | None = None,
) -> list[Draft]:
    """Work through the sheet of a job.

    :param until: name of the last step that is done, no ply: plies are laid one after the other.
    :param fates: what is unusual about a cup, and its note, by its place in the plan from 0.
    """
    assert job.order is not None
    found = _LayUp(shop, job, job.order, person, start)
    cups = plan(layer_by_layer(job.order), shop.systems, shop.bench.scale).cups
    told = [(cup, *(fates or {}).get(place, ("", ""))) for place, cup in enumerate(cups)]
    every = steps(job.order, shop.release_agents)
    plies_done = False
    for step in every[: [step.name for step in every].index(until) + 1]:
        if step.kind == "ply":
            if not plies_done:
                _plies(found, [one for one in told if one[0].step != SURFACE_COAT])
            plies_done = True
        else:
            _WORK.get(step.kind, _plain)(found, step, told)
    return found.drafts


_Told = Sequence[tuple[PlanCup, str, str]]


def _plain(found: _LayUp, step: Step, _cups: _Told, **done: str) -> None:
    """Short work is written down when it is done."""
    found.wait(_WORK_MIN)
    found.write("step_done", step.name, **done)
    found.wait(_PAUSE_MIN)


def _release(found: _LayUp, step: Step, cups: _Told) -> None:
    agent = found.shop.release_agents[step.release_agent]
    _plain(found, step, cups)
    is_last = step.number == agent.coats
    found.wait((agent.last_min if is_last else agent.between_min) or 0)


def _surface_coat(found: _LayUp, step: Step, cups: _Told) -> None:
    found.write("step_started", step.name)
    for cup, fate, note in cups:
        if cup.step == SURFACE_COAT:
            _empty(found, found.cup_into(cup, fate, note), step_names(cup))
    found.write("step_done", step.name)


def _tack(found: _LayUp, step: Step, _cups: _Told) -> None:
    tack = found.shop.systems[step.system].tack
    found.wait((tack.opens_min if tack else 0) + _FINGER_MIN)
    found.write("tack_tested", step.name, note="ready")
    found.wait(_PAUSE_MIN)


def _plies(found: _LayUp, cups: _Told) -> None:
    """Ply after ply: a cup that reaches into the next one takes the work there."""
    open_step = ""
    for cup, fate, note in cups:
        drafts: list[Draft] = []
        for place, name in enumerate(step_names(cup)):
            if name != open_step:
                open_step = _next_ply(found, open_step, name)
            if place == 0:
                drafts = found.cup_into(cup, fate, note)
            drafts = pour_out(drafts, found.at, [name])
            found.wait(_PAUSE_MIN)
        found.drafts += leave(drafts, found.at, _left_g(found))
        found.wait(1)
    found.write("step_done", open_step)
    found.wait(_PAUSE_MIN)


def _next_ply(found: _LayUp, before: str, name: str) -> str:
    if before:
        found.write("step_done", before)
        found.wait(_PAUSE_MIN)
    found.write("step_started", name, shown="primary")
    return name


def _empty(found: _LayUp, drafts: list[Draft], names: Sequence[str]) -> None:
    drafts = pour_out(drafts, found.at, names)
    found.wait(_PAUSE_MIN)
    found.drafts += leave(drafts, found.at, _left_g(found))
    found.wait(1)


def _left_g(found: _LayUp) -> float:
    return max(2.0, found.shop.bench.random.gauss(found.order.loss_per_cup_g, 1.2))


def _cure(found: _LayUp, step: Step, _cups: _Told) -> None:
    """Nobody writes anything: it runs by itself."""
    cure = found.shop.systems[step.system].cure
    found.wait((cure.demould_min if cure else _CURE_MIN) + 60)


def _demould(found: _LayUp, step: Step, cups: _Told) -> None:
    _plain(found, step, cups, note=_HARD)


_WORK: Mapping[str, Callable[[_LayUp, Step, _Told], None]] = {
    "release": _release,
    "surface_coat": _surface_coat,
    "tack": _tack,
    "cure": _cure,
    "demould": _demould,
}
