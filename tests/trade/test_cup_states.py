"""The table of states is the one the contributors read, and every state can be reached and left."""

import re
from pathlib import Path

from companion.trade.cup.progress import GROUPS, MOVES, CupState, Fact, diagram, reached

DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"


def test_the_diagram_for_contributors_is_the_table():
    found = re.search(r"```mermaid\n(.*?)\n```", DEVELOPERS.read_text(encoding="utf-8"), re.S)
    assert found is not None
    assert found.group(1) == diagram()


def test_every_state_is_reached_and_every_fact_moves_a_cup():
    assert {move.end for move in MOVES} == set(CupState) - {CupState.STARTED}
    assert {move.fact for move in MOVES} == set(Fact)


def test_from_every_state_a_cup_comes_to_its_end():
    following = {
        state: {move.end for move in MOVES if state in GROUPS.get(move.start, (move.start,))}
        for state in CupState
    }
    ends = {CupState.CLOSED}
    while wider := {state for state in CupState if following[state] & ends} - ends:
        ends |= wider
    assert ends == set(CupState)


def test_facts_are_taken_in_their_order_however_they_come():
    facts = [Fact.ENDED, Fact.MIXED, Fact.BOTH_WEIGHED, Fact.HARDENER_OPENED, Fact.LEFT_TO_SET]
    assert reached(facts) is reached(reversed(facts)) is CupState.SETTING


def test_hardener_alone_is_no_judged_cup():
    assert reached([Fact.EMPTY_CUP_READ, Fact.BOTH_WEIGHED]) is CupState.EMPTY_READ
