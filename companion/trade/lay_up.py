"""The lay-up sheet as it stands: what is done, what runs, what waits for a clock, what is late.

Folded from the rows of one job. The order of the steps is the order of the work: a step stays
locked until the one before is done. A layer bonds by itself (primary) while the one below is in
its tack window; afterwards it has to be prepared first, and the record of that stands in a row of
a step of its own, ``prepare ply 2``. What a screen said when a ply began (``shown``) stays said:
warmth measured later does not rewrite it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from .cards import ReleaseAgent, SystemCard
from .lay_up_clocks import Limits, cure_limits, milliseconds, release_limits, tack_limits
from .lay_up_rows import Happened, happened
from .lay_up_state import Bond, Sheet, SheetCards, State, StepState
from .rows import Row
from .steps import Step


def fold_sheet(
    steps: Sequence[Step],
    rows: Iterable[Row],
    cards: SheetCards,
    now_utc: str,
    temperature_c: float | None,
) -> Sheet:
    """How far a lay-up sheet is.

    :param rows: of one job, in any order; other kinds than those of steps are passed over.
    :param now_utc: RFC 3339.
    :param temperature_c: of mould or shop, degrees Celsius; None where it was not measured: then
        the times of the sheets hold as they are.
    :raises OutOfRange: a time of a row that is none.
    :source: order of the work, common practice, no source; T12 and tests/cases/lay_up.json.
    """
    bench = _Bench(happened(rows), cards, milliseconds(now_utc), temperature_c)
    found: list[StepState] = []
    for step in steps:
        found.append(_STATES.get(step.kind, _plain)(step, found, bench))
    if not found or found[-1].state is State.DONE:
        return Sheet(tuple(found), "", "")
    waiting = [state for state in found if not _is_passed(state)]
    return Sheet(tuple(found), waiting[0].step.name, _next_limit(waiting))


@dataclass(frozen=True, slots=True)
class _Bench:
    """What the states follow from."""

    happened: Mapping[str, Happened]
    cards: SheetCards
    now_ms: int
    temperature_c: float | None

    def is_past(self, at: str) -> bool:
        return at != "" and self.now_ms >= milliseconds(at)

    def system(self, code: str) -> SystemCard | None:
        fitting = [card for card in self.cards.systems if card.code == code]
        return max(fitting, key=lambda card: card.revision, default=None)

    def agent(self, code: str) -> ReleaseAgent | None:
        fitting = [card for card in self.cards.release_agents if card.code == code]
        return max(fitting, key=lambda card: card.revision, default=None)

    def window(self, below: StepState) -> Limits:
        """The tack window of a coat or ply; no limits before it is done."""
        if not below.done_at:
            return Limits()
        return tack_limits(self.system(below.step.system), below.done_at, self.temperature_c)


def _plain(step: Step, found: Sequence[StepState], bench: _Bench) -> StepState:
    """A step that waits for nothing but the one before and, after release agent, its clock."""
    before = found[-1] if found else None
    limits = Limits()
    if before is not None and before.step.kind == "release" and before.done_at:
        agent = bench.agent(before.step.release_agent)
        limits = release_limits(agent, step.kind != "release", before.done_at)
    return _gated(_told(step, limits, bench), _unpassed(found), limits, bench)


def _tack(step: Step, found: Sequence[StepState], bench: _Bench) -> StepState:
    """The finger test: it judges, the clock only says when to look."""
    limits = bench.window(found[-1])
    own = bench.happened.get(step.name, Happened())
    told = _told(step, limits, bench)
    if _unpassed(found):
        return replace(told, reason=_unpassed(found))
    tested = own.tested if _is_since(own.tested_at, found[-1].done_at) else ""
    if tested == "ready":
        return replace(told, state=State.DONE, done_at=own.tested_at)
    if tested == "too_late":
        earlier = _earlier(limits.closes_at, own.tested_at)
        return replace(told, state=State.LATE, reason="too_late", closes_at=earlier)
    gated = _gated(told, "", limits, bench)
    if tested == "not_yet" and gated.state is not State.LATE:
        return replace(gated, reason="not_yet")
    return gated


def _ply(step: Step, found: Sequence[StepState], bench: _Bench) -> StepState:
    """A ply: on a coat or ply it bonds by itself only inside the window of that one."""
    below = _last(found, ("surface_coat", "ply"))
    if below is None:
        return _plain(step, found, bench)
    limits = bench.window(below)
    tack = _last(found, ("tack",)) if below.step.kind == "surface_coat" else None
    # A ply on a ply goes on wet; only a coat has to set first.
    if tack is None:
        limits = replace(limits, opens_at="")
    else:
        limits = replace(limits, closes_at=tack.closes_at)
    told = _told(step, limits, bench)
    prepared = bench.happened.get(f"prepare {step.name}", Happened())
    is_prepared = below.done_at != "" and _is_since(prepared.done_at, below.done_at)
    bond = _bond(told, limits, below, bench)
    told = replace(told, bond=bond, notes=(*prepared.notes, *told.notes))
    if told.state is not State.LOCKED:
        unprepared = bond == Bond.SECONDARY and not is_prepared
        return replace(told, reason="not_prepared" if unprepared else "")
    if _unpassed(found):
        return replace(told, reason=_unpassed(found), bond="")
    if bond == Bond.SECONDARY:
        late = replace(told, state=State.LATE, reason="secondary_bond")
        return replace(told, state=State.READY) if is_prepared else late
    early = "before_clock" if tack and not bench.is_past(limits.opens_at) else ""
    reason = "not_on_card" if limits.missing else early
    return replace(told, state=State.READY, reason=reason)


def _bond(told: StepState, limits: Limits, below: StepState, bench: _Bench) -> str:
    """Primary inside the window; what a screen said when the ply began stays said."""
    begun = told.started_at or told.done_at
    own = bench.happened.get(told.step.name, Happened())
    if begun and own.shown:
        if own.shown != Bond.PRIMARY:
            return own.shown
        # The sheet's own window is the widest there is: nothing is primary beyond it.
        system = bench.system(below.step.system)
        limits = tack_limits(system, below.done_at, None) if below.done_at else Limits()
    if not limits.closes_at:
        return ""
    if begun:
        is_past = milliseconds(begun) >= milliseconds(limits.closes_at)
    else:
        is_past = bench.is_past(limits.closes_at)
    return Bond.SECONDARY if is_past else Bond.PRIMARY


def _cure(step: Step, found: Sequence[StepState], bench: _Bench) -> StepState:
    """The cure runs by itself from the last layer on; without a figure a person says its end."""
    layer = _last(found, ("ply", "peel_ply"))
    if layer is None or layer.state is not State.DONE:
        return replace(_told(step, Limits(), bench), reason=_unpassed(found))
    limits = cure_limits(bench.system(step.system), layer.done_at, bench.temperature_c)
    told = replace(_told(step, limits, bench), started_at=layer.done_at)
    if limits.missing and told.done_at:
        return told
    if limits.missing:
        return replace(told, state=State.RUNNING, reason="not_on_card")
    is_over = bench.is_past(limits.opens_at)
    done_at = limits.opens_at if is_over else ""
    return replace(told, state=State.DONE if is_over else State.RUNNING, done_at=done_at)


def _demould(step: Step, found: Sequence[StepState], bench: _Bench) -> StepState:
    """Out of the mould: when the clock of the cure is over and the sample is hard."""
    cure = _last(found, ("cure",))
    limits = Limits(opens_at=cure.opens_at) if cure else Limits()
    others = [state for state in found if state is not cure or not cure.opens_at]
    return _gated(_told(step, limits, bench), _unpassed(others), limits, bench)


_STATES = {"tack": _tack, "ply": _ply, "cure": _cure, "demould": _demould}


def _told(step: Step, limits: Limits, bench: _Bench) -> StepState:
    """A step with what the log says of it; locked where it says neither begun nor done."""
    own = bench.happened.get(step.name, Happened())
    state = State.DONE if own.done_at else State.RUNNING if own.started_at else State.LOCKED
    return StepState(
        step,
        state,
        started_at=own.started_at,
        done_at=own.done_at,
        opens_at=limits.opens_at,
        closes_at=limits.closes_at,
        person=own.person,
        notes=own.notes,
    )


def _gated(told: StepState, unpassed: str, limits: Limits, bench: _Bench) -> StepState:
    """Whether a step that was not begun may be begun now."""
    if told.state is not State.LOCKED:
        return told
    if unpassed:
        return replace(told, reason=unpassed)
    if bench.is_past(limits.closes_at):
        reason = "window_past" if told.step.kind == "tack" else "too_old"
        return replace(told, state=State.LATE, reason=reason)
    if limits.opens_at and not bench.is_past(limits.opens_at):
        return replace(told, state=State.WAITING, reason="clock")
    return replace(told, state=State.READY, reason="not_on_card" if limits.missing else "")


def _is_passed(state: StepState) -> bool:
    """Whether the next step may follow; after a missed window the plies do, once prepared."""
    return state.state is State.DONE or (state.step.kind, state.state) == ("tack", State.LATE)


def _unpassed(found: Sequence[StepState]) -> str:
    return next((state.step.name for state in reversed(found) if not _is_passed(state)), "")


def _last(found: Sequence[StepState], kinds: tuple[str, ...]) -> StepState | None:
    return next((state for state in reversed(found) if state.step.kind in kinds), None)


def _is_since(at: str, then: str) -> bool:
    return at != "" and milliseconds(at) >= milliseconds(then)


def _earlier(closes_at: str, tested_at: str) -> str:
    return tested_at if not closes_at or _is_since(closes_at, tested_at) else closes_at


def _next_limit(waiting: Sequence[StepState]) -> str:
    limits = []
    for state in waiting:
        is_cure = (state.step.kind, state.state) == ("cure", State.RUNNING)
        if is_cure or state.state is State.WAITING:
            limits.append(state.opens_at)
        elif state.state in (State.READY, State.LATE):
            limits.append(state.closes_at)
    return min((limit for limit in limits if limit), default="")
