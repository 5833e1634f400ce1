"""Steps of a lay-up sheet as the office says them."""

import pytest
from flask import Flask

from companion.trade.steps import steps
from companion.web.office.step_words import step_words
from tests.trade.test_lay_up import ORDER, WAX


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("ply 12", "ply 12"),
        ("release 2", "release coat 2"),
        ("prepare ply 2", "preparation for ply 2"),
        ("tack", "finger test"),
        ("mould", "mould check"),
        ("blade", "blade"),
        ("ply 0", "ply 0"),
        ("ply one", "ply one"),
        ("", ""),
    ],
)
def test_it_says_a_step_and_leaves_what_a_person_typed(app: Flask, name: str, words: str) -> None:
    with app.test_request_context():
        assert step_words(name) == words


def test_no_two_steps_are_said_alike(app: Flask) -> None:
    made = steps(ORDER, {WAX.code: WAX})
    with app.test_request_context():
        assert len({step_words(step.name) for step in made}) == len(made)
