"""The one table of how a cup gets from state to state.

The rows of a cup come down to facts; taken in the order of ``Fact``, each moves the cup on where
the table has a move for it. A row that makes no sense where it stands (a mix before any hardener,
from a phone that lost its readings) moves the cup all the same: what was done is done, and whether
the cup may be used is asked elsewhere (``Cup.usable``).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum


class CupState(StrEnum):
    """Where a cup stands on its way."""

    STARTED = "started"
    EMPTY_READ = "empty_read"
    A_WAITING = "a_waiting"
    B_OPEN = "b_open"
    JUDGED = "judged"
    MIXING = "mixing"
    MIXED = "mixed"
    IN_USE = "in_use"
    #: nobody can say which cup it is; it goes into no part.
    UNIDENTIFIED = "unidentified"
    #: it came to its end with hardener in it, and is watched until cold and hard.
    SETTING = "setting"
    CLOSED = "closed"


class Fact(StrEnum):
    """What the rows of a cup say of it, in the order in which the facts are taken."""

    UNIDENTIFIED = "unidentified"
    EMPTY_CUP_READ = "empty_cup_read"
    A_WEIGHED = "a_weighed"
    HARDENER_OPENED = "hardener_opened"
    BOTH_WEIGHED = "both_weighed"
    MIX_STARTED = "mix_started"
    MIXED = "mixed"
    POURED = "poured"
    ENDED = "ended"
    LEFT_TO_SET = "left_to_set"
    COLD_AND_HARD = "cold_and_hard"


#: States that have a name together; a move from one of them starts in each of its states.
GROUPS: Mapping[str, tuple[CupState, ...]] = {
    "on_the_scale": (
        CupState.STARTED,
        CupState.EMPTY_READ,
        CupState.A_WAITING,
        CupState.B_OPEN,
        CupState.JUDGED,
    ),
    "open": (
        CupState.STARTED,
        CupState.EMPTY_READ,
        CupState.A_WAITING,
        CupState.B_OPEN,
        CupState.JUDGED,
        CupState.MIXING,
        CupState.MIXED,
        CupState.IN_USE,
        CupState.UNIDENTIFIED,
    ),
}


@dataclass(frozen=True, slots=True)
class Move:
    """From a state, or any of a group, by a fact, to a state."""

    start: str
    fact: Fact
    end: CupState


MOVES: tuple[Move, ...] = (
    Move("started", Fact.UNIDENTIFIED, CupState.UNIDENTIFIED),
    Move("started", Fact.EMPTY_CUP_READ, CupState.EMPTY_READ),
    Move("started", Fact.A_WEIGHED, CupState.A_WAITING),
    Move("empty_read", Fact.A_WEIGHED, CupState.A_WAITING),
    Move("started", Fact.HARDENER_OPENED, CupState.B_OPEN),
    Move("empty_read", Fact.HARDENER_OPENED, CupState.B_OPEN),
    Move("a_waiting", Fact.HARDENER_OPENED, CupState.B_OPEN),
    Move("b_open", Fact.BOTH_WEIGHED, CupState.JUDGED),
    Move("on_the_scale", Fact.MIX_STARTED, CupState.MIXING),
    # A share of a divided mix was mixed before it was a cup.
    Move("on_the_scale", Fact.MIXED, CupState.MIXED),
    Move("mixing", Fact.MIXED, CupState.MIXED),
    Move("on_the_scale", Fact.POURED, CupState.IN_USE),
    Move("mixing", Fact.POURED, CupState.IN_USE),
    Move("mixed", Fact.POURED, CupState.IN_USE),
    Move("open", Fact.ENDED, CupState.CLOSED),
    Move("closed", Fact.LEFT_TO_SET, CupState.SETTING),
    Move("setting", Fact.COLD_AND_HARD, CupState.CLOSED),
)


def _table(moves: Iterable[Move]) -> Mapping[tuple[CupState, Fact], CupState]:
    return {
        (start, move.fact): move.end
        for move in moves
        for start in GROUPS.get(move.start) or (CupState(move.start),)
    }


_TABLE = _table(MOVES)


def reached(facts: Iterable[Fact]) -> CupState:
    """State of a cup of which these facts hold.

    :source: order of the work, common practice, no source.
    """
    holding, state = frozenset(facts), CupState.STARTED
    for fact in Fact:
        if fact in holding:
            state = _TABLE.get((state, fact), state)
    return state


def diagram() -> str:
    """The table as a Mermaid state diagram, one line per move."""
    inner = GROUPS["on_the_scale"]
    outer = [state for state in GROUPS["open"] if state not in inner]
    lines = [
        "stateDiagram-v2",
        "    [*] --> started",
        "    state open {",
        "        state on_the_scale {",
        *(f"            {state}" for state in inner),
        "        }",
        *(f"        {state}" for state in outer),
        "    }",
        *(f"    {move.start} --> {move.end} : {move.fact}" for move in MOVES),
        "    closed --> [*]",
    ]
    return "\n".join(lines)
