"""Whatever people do with a cup and two phones: no mass is invented and no bad cup passes."""

from hypothesis import settings

from tests.trade.cup_on_scale import CarefulCup, CupOnScale

for machine in (CupOnScale, CarefulCup):
    machine.TestCase.settings = settings(max_examples=150, stateful_step_count=30, deadline=None)


class TestCupOnScale(CupOnScale.TestCase):
    """Random sequences of pours, readings, slips, restarts, strikes and corrections."""


class TestCarefulCup(CarefulCup.TestCase):
    """The same of people who make fewer slips, so that more cups come to be judged."""
