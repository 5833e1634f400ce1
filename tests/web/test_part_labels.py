"""The page of labels: parts that are entered and printed, and the cups of one plan."""

import re
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import labels, parts, plans
from companion.records.store import Store
from tests.paper.raster import rasterise, read_zbar, read_zxing, words
from tests.web.test_labels import form, given, text_of


@pytest.fixture
def store(app: Flask) -> Store:
    found: Store = app.extensions["companion"].store
    return found


def test_it_offers_the_parts_on_record(client: FlaskClient) -> None:
    page = client.get("/labels?what=parts").text
    assert page.count('name="codes"') == page.count(" checked") == 8
    said = text_of(page)
    assert "HC-014 · Hatch cover 14" in said and "PP-015-L · Paddle pair 15" in said
    assert "8 labels, 1 page." in said


def test_it_enters_a_part_and_prints_its_label(
    client: FlaskClient, store: Store, tmp_path: Path
) -> None:
    answer = client.post("/labels/parts", data={"job": "14@2", "serial": " HC-015 "})
    assert (answer.status_code, answer.headers["Location"]) == (303, "/labels?what=parts")
    (part,) = [one for one in parts.every(store) if one.serial == "HC-015"]
    assert f'value="{part.code}" checked' in client.get("/labels?what=parts").text
    pdf = client.post("/labels", data=form("parts", codes=[part.code])).data
    (page,) = rasterise(pdf, tmp_path)
    assert [one.text for one in read_zxing(page)] == read_zbar(page) == [part.code]
    assert "HC-015" in words(pdf, tmp_path)
    assert set(labels.printed(store)) == {part.code}


WRONG = [
    ({"serial": ""}, "serial", "Serial: “”. 1 to 40 printable characters are allowed."),
    ({"serial": "x" * 41}, "serial", f"Serial: “{'x' * 40}…”. 1 to 40 printable characters"),
    ({"serial": "HC\u202e1"}, "serial", "1 to 40 printable characters are allowed."),
    ({"serial": "HC-014"}, "serial", "“HC-014” is the serial of part"),
    ({"job": "99"}, "job", "Job: “99” is not on the list. Choose one of the list."),
    ({"job": "<b>"}, "job", "Job: “&lt;b&gt;” is not on the list."),
]


@pytest.mark.parametrize(("changes", "field", "said"), WRONG)
def test_it_says_why_a_part_cannot_be_entered(
    client: FlaskClient, store: Store, changes: dict[str, str], field: str, said: str
) -> None:
    known, before = parts.every(store), given(store)
    answer = client.post("/labels/parts", data={"job": "15@1", "serial": "HC-015", **changes})
    assert answer.status_code == 422 and said in answer.text
    assert f'<a href="#{field}">' in answer.text
    assert f'id="{field}-error"' in answer.text
    # What was typed stands there still.
    if field == "job":
        assert 'name="serial" type="text" value="HC-015"' in answer.text
    else:
        assert '<option value="15@1" selected>' in answer.text
    assert parts.every(store) == known and given(store) == before


def test_it_warns_of_letters_that_cannot_be_printed(client: FlaskClient, store: Store) -> None:
    warning = "These letters cannot be printed and come out as empty boxes: 体 船"
    assert "empty boxes" not in client.get("/labels?what=parts").text
    code = parts.add(store, "14", "船体 7", "2026-03-07T10:00:00.000Z")
    assert warning in client.get("/labels?what=parts").text
    # They are printed all the same.
    answer = client.post("/labels", data=form("parts", codes=[code]))
    assert answer.headers["Content-Type"] == "application/pdf"


def plan_two(client: FlaskClient) -> str:
    """Plan two cups and give the moment of their plan."""
    sent = {"system": "RES-L+HRD-S@3", "total": "146,4", "count": "2", "job": "14@2", "step": "p"}
    location = client.post("/plan", data=sent).headers["Location"]
    return location.rpartition("/")[2].replace("%3A", ":")


def test_the_cups_can_be_limited_to_one_plan(
    client: FlaskClient, store: Store, tmp_path: Path
) -> None:
    at = plan_two(client)
    whole = client.get("/labels").text
    assert whole.count('name="codes"') == 7
    option = rf'<option value="{at}">Hatch cover 14 · p · 2 cups · '
    assert re.search(option + r"[A-Z][a-z]+ \d+, \d+, \d+:\d+ \(UTC\)<", whole)
    page = client.get("/labels", query_string={"plan": at}).text
    wanted = [cup.code for cup in plans.every(store) if cup.made_at == at]
    assert re.findall(r'name="codes" value="(\w+)" checked', page) == wanted
    assert f'<option value="{at}" selected>' in page
    # The form keeps to the plan: another cup is not on its list.
    other = plans.every(store)[0].code
    refused = client.post("/labels", data=form(codes=[other], plan=at))
    assert refused.status_code == 422 and "is not on the list" in refused.text
    pdf = client.post("/labels", data=form(codes=wanted, plan=at)).data
    (paper,) = rasterise(pdf, tmp_path)
    assert sorted(one.text for one in read_zxing(paper)) == sorted(wanted)


def test_it_names_a_plan_by_its_steps(client: FlaskClient, store: Store) -> None:
    at = plan_two(client)
    with store.write() as connection:
        codes = labels.take_codes(connection, 1, "", at)
        fields = {"job": "14@2", "step": "q", "system": "RES-L+HRD-S@3", "total": "100"}
        plans.add(connection, plans.PlannedCup(code=codes[0], made_at=at, **fields))
    assert "Hatch cover 14 · 2 steps · 3 cups · " in client.get("/labels").text


@pytest.mark.parametrize("plan", ["2026-01-01T00:00:00.000Z", "<b>", "x" * 99])
def test_it_refuses_a_plan_with_no_cup_that_waits(client: FlaskClient, plan: str) -> None:
    for answer in (
        client.get("/labels", query_string={"plan": plan}),
        client.post("/labels", data=form(plan=plan)),
    ):
        assert answer.status_code == 422
        assert '<a href="#plan">Plan: no cup of “' in answer.text
        assert 'id="plan"' in answer.text and "<b>" not in answer.text
