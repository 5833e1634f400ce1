"""The phone says the same as the server at every step of random sequences at the scale."""

import json
from typing import ClassVar

from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test

from companion.trade.cup import Action
from tests.bench.test_parity import on_the_phone, page  # noqa: F401
from tests.cases import difference, outcome
from tests.trade.cup_on_scale import CarefulCup, CupOnScale, calls_of

MOST_VIEWS = 1500


class Watched(CupOnScale):
    """The same machine, its views kept."""

    views: ClassVar[list] = []


class WatchedCareful(CarefulCup):
    """The same, of careful people."""

    views = Watched.views


def test_the_phone_agrees_at_every_step(page) -> None:  # noqa: F811
    Watched.views.clear()
    for machine in (Watched, WatchedCareful):
        same_each_time = settings(
            max_examples=60, stateful_step_count=30, deadline=None, derandomize=True, database=None
        )
        run_state_machine_as_test(machine, settings=same_each_time)
    views = Watched.views[:: max(1, len(Watched.views) // MOST_VIEWS)]
    assert len(views) >= 500
    made = calls_of(views)
    wrong, actions = [], set()
    for call, got in zip(made, on_the_phone(page, made), strict=True):
        wanted = json.loads(json.dumps(outcome(call)))
        if call["call"] == "advise":
            actions.add(wanted["value"]["action"])
        if difference(wanted, got, rel=0.0, abs_=0.0):
            wrong.append((call, difference(wanted, got, rel=0.0, abs_=0.0)))
    assert wrong == []
    assert actions >= {Action.POUR, Action.OPEN_HARDENER, Action.CORRECT, Action.MIX, Action.SCRAP}
