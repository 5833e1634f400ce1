"""The lay-up sheet as it stands: what is done, what runs, what waits for a clock, what is late.

Folded from the rows of one job and the readings of mould and air. The order of the steps is the
order of the work: a step stays locked until the one before is done. A layer bonds by itself
(primary) while the one below is in its tack window; afterwards it has to be prepared first, and
the record of that stands in a row of a step of its own, ``prepare ply 2``. What a screen said when
a ply began (``shown``) stays said: warmth measured later does not rewrite it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from .lay_up_bench import (
    Bench,
    ended_at,
    gated,
    is_passed,
    is_since,
    last,
    limited,
    told,
    unpassed,
    unsure,
)
from .lay_up_clocks import Limits, cure_limits, full_cure_at, release_limits
from .lay_up_rows import LEFT_OUT, Happened, happened
from .lay_up_state import Bond, Sheet, SheetCards, State, StepState
from .lay_up_warmth import temperatures
from .rows import Row
from .steps import Step
from .times import milliseconds


def fold_sheet(
    steps: Sequence[Step], rows: Iterable[Row], cards: SheetCards, now_utc: str
) -> Sheet:
    """How far a lay-up sheet is.

    :param rows: of one job, and ``climate`` rows of the shop, in any order; other kinds are passed
        over. Where nothing was measured the times of the sheets hold as they are.
    :param now_utc: RFC 3339.
    :raises OutOfRange: a time of a row that is none.
    :source: order of the work, common practice, no source; T12 and tests/cases/lay_up.json.
    """
    every = list(rows)
    readings = temperatures(every, now_utc)
    bench = Bench(happened(every), cards, milliseconds(now_utc), readings)
    found: list[StepState] = []
    for step in steps:
        found.append(_STATES.get(step.kind, _plain)(step, found, bench))
    if not found or found[-1].state is State.DONE:
        return Sheet(tuple(found), "", "")
    waiting = [state for state in found if not is_passed(state)]
    return Sheet(tuple(found), waiting[0].step.name, _next_limit(waiting))


def _plain(step: Step, found: Sequence[StepState], bench: Bench) -> StepState:
    """A step that waits for nothing but the one before and, after release agent, its clock."""
    before = found[-1] if found else None
    limits = Limits()
    if before is not None and before.step.kind == "release" and before.done_at:
        agent = bench.agent(before.step.release_agent)
        limits = release_limits(agent, step.kind != "release", before.done_at)
    return gated(told(step, limits, bench), unpassed(found), limits, bench)


def _tack(step: Step, found: Sequence[StepState], bench: Bench) -> StepState:
    """The finger test: it judges, the clock only says when to look."""
    coat = found[-1]
    limits = bench.window(coat)
    own = bench.happened.get(step.name, Happened())
    state = told(step, limits, bench)
    if unpassed(found):
        return replace(state, reason=unpassed(found))
    tested = own.tested if is_since(own.tested_at, coat.done_at) else ""
    if tested == "ready":
        return replace(state, state=State.DONE, done_at=own.tested_at)
    if tested == "too_late":
        earlier = _earlier(limits.closes_at, own.tested_at)
        return replace(state, state=State.LATE, reason="too_late", closes_at=earlier)
    if bench.is_unsure(coat):
        return unsure(state)
    clocked = gated(state, "", limits, bench)
    if clocked.state is State.WAITING and is_since(limits.opens_at, limits.closes_at):
        clocked = replace(clocked, reason="no_window")
    if tested == "not_yet" and clocked.state is not State.LATE:
        return replace(clocked, reason="not_yet")
    return clocked


def _ply(step: Step, found: Sequence[StepState], bench: Bench) -> StepState:
    """A ply: on a coat or ply it bonds by itself only inside the window of that one."""
    below = last(found, "surface_coat", "ply")
    if below is None:
        return _plain(step, found, bench)
    limits = _ply_limits(below, found, bench)
    state = told(step, limits, bench)
    prepared = bench.happened.get(f"prepare {step.name}", Happened())
    bond = _bond(state, limits, below, bench)
    state = replace(state, bond=bond, notes=(*prepared.notes, *state.notes))
    is_prepared = below.done_at != "" and is_since(prepared.done_at, below.done_at)
    is_late = bond == Bond.SECONDARY and not is_prepared
    if state.state is State.LOCKED and unpassed(found):
        return replace(state, reason=unpassed(found), bond="")
    if state.state is State.LOCKED and bench.is_unsure(below):
        return unsure(state)
    if state.state is State.LOCKED and is_late:
        return replace(state, state=State.LATE, reason="secondary_bond")
    # A window that has closed says nothing about a surface that was prepared.
    if bond == Bond.SECONDARY:
        state = limited(state, Limits())
    if state.state is not State.LOCKED:
        return replace(state, reason="not_prepared") if is_late else state
    return replace(state, state=State.READY, reason=_ply_reason(state, limits, bench))


def _ply_limits(below: StepState, found: Sequence[StepState], bench: Bench) -> Limits:
    """A ply on a ply goes on wet; only a coat has to set first."""
    limits = bench.window(below)
    tack = last(found, "tack") if below.step.kind == "surface_coat" else None
    if tack is None:
        return replace(limits, opens_at="", coldest_c=None)
    return replace(limits, closes_at=tack.closes_at)


def _ply_reason(state: StepState, limits: Limits, bench: Bench) -> str:
    if state.bond == Bond.SECONDARY:
        return ""
    if limits.missing:
        return "not_on_card"
    return "before_clock" if limits.opens_at and not bench.is_past(limits.opens_at) else ""


def _peel_ply(step: Step, found: Sequence[StepState], bench: Bench) -> StepState:
    """A peel ply is wetted out by the resin below, while that is wet."""
    below = last(found, "ply")
    if below is None:
        return _plain(step, found, bench)
    limits = replace(bench.window(below), opens_at="", coldest_c=None)
    state = told(step, limits, bench)
    if state.state is State.LOCKED and not unpassed(found) and bench.is_unsure(below):
        return unsure(state)
    clocked = gated(state, unpassed(found), limits, bench)
    return replace(clocked, reason="not_wet") if clocked.state is State.LATE else clocked


def _bond(state: StepState, limits: Limits, below: StepState, bench: Bench) -> str:
    """Primary inside the window; what a screen said when the ply began stays said."""
    begun = state.started_at or state.done_at
    own = bench.happened.get(state.step.name, Happened())
    if begun and own.shown:
        if own.shown != Bond.PRIMARY:
            return own.shown
        limits = bench.widest_window(below)
    elif begun and bench.is_unsure(below, begun):
        return ""
    if not limits.closes_at:
        return ""
    is_past = is_since(begun, limits.closes_at) if begun else bench.is_past(limits.closes_at)
    return Bond.SECONDARY if is_past else Bond.PRIMARY


def _cure(step: Step, found: Sequence[StepState], bench: Bench) -> StepState:
    """The cure runs by itself from the last layer on; without a figure a person says its end."""
    layer = _last_layer(found)
    if layer is None or layer.state is not State.DONE:
        return replace(told(step, Limits(), bench), reason=unpassed(found))
    system, layer_at = bench.system(step.system), ended_at(layer)
    limits = cure_limits(system, layer_at, bench.readings)
    full_at = full_cure_at(system, layer_at, bench.readings)
    state = replace(told(step, limits, bench), started_at=layer_at, full_at=full_at)
    if limits.missing and state.done_at:
        return state
    if limits.missing:
        return replace(state, state=State.RUNNING, reason="not_on_card")
    is_over = bench.is_past(limits.opens_at)
    done_at = limits.opens_at if is_over else ""
    return replace(state, state=State.DONE if is_over else State.RUNNING, done_at=done_at)


def _demould(step: Step, found: Sequence[StepState], bench: Bench) -> StepState:
    """Out of the mould: when the clock of the cure is over and the sample is hard."""
    cure = last(found, "cure")
    limits = Limits(opens_at=cure.opens_at, coldest_c=cure.coldest_c) if cure else Limits()
    others = [state for state in found if state is not cure or not cure.opens_at]
    state = replace(told(step, limits, bench), full_at=cure.full_at if cure else "")
    return gated(state, unpassed(others), limits, bench)


_STATES = {
    "tack": _tack,
    "ply": _ply,
    "peel_ply": _peel_ply,
    "cure": _cure,
    "demould": _demould,
}


def _last_layer(found: Sequence[StepState]) -> StepState | None:
    """The layer that cures last; a peel ply that was left out is none."""
    return last([state for state in found if LEFT_OUT not in state.notes], "ply", "peel_ply")


def _earlier(closes_at: str, tested_at: str) -> str:
    return tested_at if not closes_at or is_since(closes_at, tested_at) else closes_at


def _next_limit(waiting: Sequence[StepState]) -> str:
    limits = []
    for state in waiting:
        is_cure = (state.step.kind, state.state) == ("cure", State.RUNNING)
        if is_cure or (state.state is State.WAITING and state.reason != "no_window"):
            limits.append(state.opens_at)
        elif state.state in (State.WAITING, State.READY, State.LATE):
            limits.append(state.closes_at)
    return min((limit for limit in limits if limit), default="")
