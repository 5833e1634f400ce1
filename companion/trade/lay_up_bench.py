"""What every step of a lay-up sheet is judged by: the log, the cards, the warmth and the time."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from .cards import ReleaseAgent, SystemCard
from .lay_up_clocks import Limits, tack_limits
from .lay_up_rows import Happened
from .lay_up_state import SheetCards, State, StepState
from .lay_up_warmth import AHEAD_MS, Reading
from .steps import Step
from .times import from_milliseconds, milliseconds

# A coat or ply lies within an hour of its start, whenever its end was tapped; common practice,
# no source.
LAID_MS = 60 * 60 * 1000
#: Steps that lay resin on, whose window counts from when it lay.
LAYERS = ("surface_coat", "ply")


@dataclass(frozen=True, slots=True)
class Bench:
    """What the states follow from."""

    happened: Mapping[str, Happened]
    cards: SheetCards
    now_ms: int
    readings: tuple[Reading, ...]

    def is_past(self, at: str) -> bool:
        return at != "" and self.now_ms >= milliseconds(at)

    def is_unsure(self, layer: StepState, at: str = "") -> bool:
        """Whether a layer ended by a clock that is wrong: after the layer on it was begun.

        :param at: start of the layer on it; empty for now.
        """
        moment_ms = milliseconds(at) if at else self.now_ms
        return layer.done_at != "" and milliseconds(layer.done_at) > moment_ms + AHEAD_MS

    def system(self, code: str) -> SystemCard | None:
        fitting = [card for card in self.cards.systems if card.code == code]
        return max(fitting, key=lambda card: card.revision, default=None)

    def agent(self, code: str) -> ReleaseAgent | None:
        fitting = [card for card in self.cards.release_agents if card.code == code]
        return max(fitting, key=lambda card: card.revision, default=None)

    def window(self, below: StepState) -> Limits:
        """The tack window of a coat or ply; no limits before it is done."""
        return self._window(below, self.readings)

    def widest_window(self, below: StepState) -> Limits:
        """The sheet's own: nothing is primary beyond it."""
        return self._window(below, ())

    def _window(self, below: StepState, readings: tuple[Reading, ...]) -> Limits:
        if not below.done_at:
            return Limits()
        system = self.system(below.step.system)
        return tack_limits(system, ended_at(below), laid_at(below), readings)


def ended_at(layer: StepState) -> str:
    """End of a layer that is done: no start of another clock lies after it."""
    return max(layer.done_at, layer.started_at or layer.done_at, key=milliseconds)


def laid_at(layer: StepState) -> str:
    """When a layer that is done lay: at its end, and within an hour of its start."""
    if not layer.started_at:
        return layer.done_at
    latest = from_milliseconds(milliseconds(layer.started_at) + LAID_MS)
    return min(layer.done_at, latest, key=milliseconds)


def told(step: Step, limits: Limits, bench: Bench) -> StepState:
    """A step with what the log says of it; locked where it says neither begun nor done."""
    own = bench.happened.get(step.name, Happened())
    state = State.DONE if own.done_at else State.RUNNING if own.started_at else State.LOCKED
    found = StepState(
        step,
        state,
        started_at=own.started_at,
        done_at=own.done_at,
        person=own.person,
        notes=own.notes,
        row_id=own.done_id or next(iter(own.start_ids), ""),
    )
    is_late = step.kind in LAYERS and found.done_at and laid_at(found) != found.done_at
    return limited(replace(found, reason="done_late" if is_late else ""), limits)


def limited(state: StepState, limits: Limits) -> StepState:
    """A step with limits, and what they were counted at."""
    return replace(
        state,
        opens_at=limits.opens_at,
        closes_at=limits.closes_at,
        coldest_c=limits.coldest_c,
        warmest_c=limits.warmest_c,
    )


def gated(found: StepState, unpassed: str, limits: Limits, bench: Bench) -> StepState:
    """Whether a step that was not begun may be begun now.

    :param unpassed: name of a step that comes first; empty if none does.
    """
    if found.state is not State.LOCKED:
        return found
    if unpassed:
        return replace(found, reason=unpassed)
    if bench.is_past(limits.closes_at):
        reason = "window_past" if found.step.kind == "tack" else "too_old"
        return replace(found, state=State.LATE, reason=reason)
    if limits.opens_at and not bench.is_past(limits.opens_at):
        return replace(found, state=State.WAITING, reason="clock")
    return replace(found, state=State.READY, reason="not_on_card" if limits.missing else "")


def unsure(found: StepState) -> StepState:
    """A step on a layer whose end lies ahead of the clock: no time of it is to be relied on."""
    return replace(limited(found, Limits()), state=State.WAITING, reason="clock_unsure", bond="")


def is_passed(state: StepState) -> bool:
    """Whether the next step may follow; after a missed window the plies do, once prepared."""
    return state.state is State.DONE or (state.step.kind, state.state) == ("tack", State.LATE)


def unpassed(found: Sequence[StepState]) -> str:
    """Name of the last step that is not passed yet; empty if all are."""
    return next((state.step.name for state in reversed(found) if not is_passed(state)), "")


def last(found: Sequence[StepState], *kinds: str) -> StepState | None:
    """The last step of these kinds."""
    return next((state for state in reversed(found) if state.step.kind in kinds), None)


def is_since(at: str, then: str) -> bool:
    """Whether a time is there and not before another."""
    return at != "" and milliseconds(at) >= milliseconds(then)
