"""Scales: what they can judge, their repeatability, and the checks the office writes."""

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import catalogue, log, office_log, scale_checks
from companion.records.store import Store
from companion.trade.cards import ScaleCard
from companion.trade.rows import Row
from tests.web.cards import change, value_of, words

CHECK = {
    "scale": "S1",
    "weight_g": "100",
    "weight_class": "M1",
    "display_g": "100,1",
    "person": "O",
}


@pytest.fixture
def store(app: Flask) -> Store:
    found: Store = app.extensions["companion"].store
    return found


def checks(store: Store) -> list[Row]:
    """Checks written by the office; those of the demo came from a phone."""
    own = log.all_rows(store, log_id=catalogue.identity(store).log_id)
    return [one for one in own if one.kind == "scale_checked"]


def test_it_lists_scales_with_the_smallest_cup_of_each_system(client: FlaskClient) -> None:
    page = words(client.get("/scales"))
    assert "S1 revision 1 0.1 3000 120 " in page
    # T13: 20.9 g and 62.6 g on S1, 208.6 g and 625.7 g on S2, rounded up.
    assert "S1 from the display step only 0.1 g 20.9 g 62.6 g" in page
    assert "S2 from the display step only 1 g 208.6 g 625.8 g" in page


def test_a_check_is_a_row_of_the_office(client: FlaskClient, store: Store) -> None:
    answer = client.post("/scales/check", data=CHECK)
    assert answer.status_code == 303
    (row,) = checks(store)
    assert (row.value, row.unit, row.target, row.note) == ("100.1", "g", "100", "M1")
    assert (row.scale, row.person) == ("S1@1", "O")
    assert row.log_id == catalogue.identity(store).log_id
    page = words(client.get(answer.headers["Location"]))
    assert "S1@1 100 M1 100.1 0.1 0.20 Owner within the limit" in page


def test_a_scale_beyond_its_limit_is_pointed_out_until_it_is_checked_again(
    client: FlaskClient,
) -> None:
    client.post("/scales/check", data={**CHECK, "display_g": "100.3"})
    page = words(client.get("/scales"))
    assert "0.3 0.20 Owner beyond the limit" in page
    assert "beyond its limit: clean, level, fresh battery" in page
    client.post("/scales/check", data={**CHECK, "display_g": "100.0"})
    assert "beyond its limit" not in words(client.get("/scales"))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"scale": ""}, "Scale is empty."),
        ({"scale": "S9"}, "Scale: “S9” is not on the list."),
        ({"weight_g": "3"}, "Check weight: “3” is not on the list."),
        ({"weight_class": "E1"}, "Class of the weight: “E1” is not on the list."),
        ({"display_g": ""}, "Display with the weight on it, g is empty."),
        ({"display_g": "100"}, "“100”. Scale S1 counts in steps of 0.1 g"),
        ({"display_g": "3000.1"}, "“3000.1”. 0 to 3000 is allowed."),
        ({"display_g": "1.000,1"}, "has two marks."),
        ({"person": "X"}, "Who checks: “X” is not on the list."),
    ],
)
def test_a_wrong_check_is_named_and_writes_nothing(
    client: FlaskClient, store: Store, typed: dict[str, str], said: str
) -> None:
    answer = client.post("/scales/check", data={**CHECK, **typed})
    assert answer.status_code == 422
    assert said in words(answer)
    assert value_of(answer, "display_g") == {**CHECK, **typed}["display_g"]
    assert checks(store) == []


def test_a_weight_heavier_than_the_scale_can_carry_is_refused(
    client: FlaskClient, store: Store
) -> None:
    change(client, "scale", catalogue.named(store, ScaleCard, "S1"), capacity_g="500")
    answer = client.post("/scales/check", data={**CHECK, "weight_g": "1000"})
    assert "Check weight: “1000”. At most 500 is allowed." in words(answer)


def test_five_readings_become_the_repeatability(client: FlaskClient, store: Store) -> None:
    readings = dict(
        zip(
            (f"reading_{number}_g" for number in range(1, 6)),
            ("100,04", "100,00", "100,05", "99,99", "100,02"),
            strict=True,
        )
    )
    answer = change(client, "scale", catalogue.named(store, ScaleCard, "S1"), **readings)
    assert answer.status_code == 303
    # Squares of 2, 2, 3, 3 and 0 hundredths over 4.
    assert catalogue.named(store, ScaleCard, "S1").repeatability_g == pytest.approx(0.025495)
    # A scatter makes the smallest cup larger than the display step alone.
    assert "S1 0.1 g 27.9 g" in words(client.get("/scales"))


def test_a_check_on_a_scale_nobody_knows_is_shown_and_not_judged(
    client: FlaskClient, store: Store
) -> None:
    with store.write() as connection:
        draft = Row(kind="scale_checked", value="100.0", target="100 g", scale="S7@1")
        office_log.append(connection, [draft], "2026-03-08T09:00:00.000Z")
    (unknown,) = [one for one in scale_checks.every(store) if one.scale == "S7"]
    assert unknown.judgement is None
    assert "cannot be judged" in words(client.get("/scales"))


def test_checks_travel_as_moments(client: FlaskClient, store: Store) -> None:
    written = client.post("/scales/check", data=CHECK)
    assert written.status_code == 303
    (row,) = checks(store)
    moment = row.recorded_at[:19].replace("T", " ")
    assert f"\n{moment},S1@" in client.get("/materials/checks.csv").text.replace("\r", "")
    assert f",{moment}," in client.get("/materials/scale.csv").text
    # On the page it is a moment as people read it.
    assert moment not in client.get("/scales").text
